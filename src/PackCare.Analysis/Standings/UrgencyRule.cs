using PackCare.Analysis.Assessments;

namespace PackCare.Analysis.Standings;

/// <summary>How soon something needs doing about a finding that does not say so itself.</summary>
internal static class UrgencyRule
{
    /// <summary>The finding with its urgency.</summary>
    public static Finding Complete(Finding finding) => finding.Due is not null ? finding : finding with { Due = Of(finding) };

    private static DueUrgency? Of(Finding finding) => finding.Level switch
    {
        FindingLevel.Stop => DueUrgency.Stop,
        FindingLevel.Retire => DueUrgency.Overdue,
        FindingLevel.Watch => finding.Code is FindingCode.LowCell or FindingCode.OverVoltage or FindingCode.RestSpread
            or FindingCode.ChargeOffset or FindingCode.NeverBalanced or FindingCode.SelfDischarge
            ? DueUrgency.Due
            : DueUrgency.Plan,
        _ => null,
    };
}
