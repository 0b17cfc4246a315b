namespace PackCare.Report.Tests.Browser;

/// <summary>Tests that share one report and one browser, and so run one after the other.</summary>
[CollectionDefinition(OpenReport.Name)]
public sealed class SharedBrowser : ICollectionFixture<OpenReport>;
