using PackCare.Analysis.Assessments;
using PackCare.Analysis.Wording;

namespace PackCare.Analysis.Reasons;

/// <summary>One finding as a paragraph.</summary>
internal static class FindingReason
{
    private const int SessionsShown = 6;

    /// <summary>The paragraph.</summary>
    public static string Of(Finding finding)
    {
        string unit = finding.Unit is null or "ratio" ? "" : " " + finding.Unit;
        string limit = finding is { Limit: { } value, Margin: { } margin }
            ? $" Limit {Say.Number(value, "0.##")}{unit}, {(margin < 0 ? "passed by" : "margin")} {Say.Number(Math.Abs(margin), "0.##")}{unit}."
            : "";
        string sessions = finding.Sessions.Count == 0 ? "" : $" Rests on {(finding.Sessions.Count == 1 ? "session" : "sessions")} {string.Join(", ", finding.Sessions.Take(SessionsShown))}{(finding.Sessions.Count > SessionsShown ? $" and {finding.Sessions.Count - SessionsShown} more" : "")}.";
        return $"{Level(finding.Level)}, {Name(finding.Code)}: {finding.Text}{limit}{sessions} To do: {finding.Action}";
    }

    /// <summary>The code in words.</summary>
    public static string Name(FindingCode code) => code switch
    {
        FindingCode.RestSpread => "rest spread",
        FindingCode.ChargeOffset => "charge offset",
        FindingCode.SelfDischarge => "self-discharge",
        FindingCode.CapacityMismatch => "capacity mismatch",
        FindingCode.FullSpell => "full spell",
        FindingCode.LowCell => "low cell",
        FindingCode.OverVoltage => "over-voltage",
        FindingCode.LeadResistance => "lead resistance",
        FindingCode.NeverBalanced => "never balanced",
        FindingCode.CheckOverdue => "check overdue",
        FindingCode.TooLittleData => "too little data",
        _ => code.ToString().ToLowerInvariant(),
    };

    private static string Level(FindingLevel level) => level switch
    {
        FindingLevel.Stop => "Stop",
        FindingLevel.Retire => "Retire",
        FindingLevel.Watch => "Watch",
        _ => "Note",
    };
}
