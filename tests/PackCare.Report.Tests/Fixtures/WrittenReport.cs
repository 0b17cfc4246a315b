using AngleSharp.Dom;
using AngleSharp.Html.Parser;

namespace PackCare.Report.Tests.Fixtures;

/// <summary>A report on disk, in a folder that goes when the tests are done.</summary>
public sealed class WrittenReport : IDisposable
{
    private static readonly HtmlParserOptions Strict = new() { IsStrictMode = true };

    public WrittenReport()
        : this(StoryTeller.Everything())
    {
    }

    internal WrittenReport(ReportInput input)
    {
        Folder = Directory.CreateTempSubdirectory("packcare-report-").FullName;
        Paths = ReportWriter.Write(input, Folder);
    }

    public string Folder { get; }

    public IReadOnlyList<string> Paths { get; }

    /// <summary>Parses a page; any parse error at all is an exception.</summary>
    public static IDocument Parse(string path) => new HtmlParser(Strict).ParseDocument(File.ReadAllText(path));

    public IDocument Page(string name) => Parse(Path.Combine(Folder, name));

    public void Dispose() => Directory.Delete(Folder, recursive: true);
}
