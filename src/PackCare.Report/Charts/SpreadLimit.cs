using PackCare.Analysis.Assessments;

namespace PackCare.Report.Charts;

/// <summary>The limit that the rest spread is held against.</summary>
internal static class SpreadLimit
{
    // Common practice, no source; used where no finding states the limit that holds for this pack.
    private const double DefaultWatchMillivolts = 15;

    /// <summary>The watch limit in millivolts.</summary>
    public static double Watch(PackAssessment assessment) =>
        assessment.Findings.FirstOrDefault(finding => finding is { Code: FindingCode.RestSpread, Level: FindingLevel.Watch, Unit: "mV", Limit: > 0 })?.Limit
        ?? DefaultWatchMillivolts;
}
