using PackCare.Analysis.Assessments;

namespace PackCare.Analysis.Standings;

/// <summary>From findings to the standing.</summary>
internal static class StandingRule
{
    /// <summary>The gravest finding sets the standing; with none that does, too little data leaves it unknown.</summary>
    public static Standing Of(IReadOnlyList<Finding> findings, int sessions)
    {
        FindingLevel gravest = FindingLevel.Note;
        foreach (Finding finding in findings)
        {
            gravest = finding.Level > gravest ? finding.Level : gravest;
        }

        return gravest switch
        {
            FindingLevel.Stop => Standing.Stop,
            FindingLevel.Retire => Standing.Retire,
            FindingLevel.Watch => Standing.Watch,
            _ => sessions < CareFindings.JudgedSessions ? Standing.Unknown : Standing.Sound,
        };
    }
}
