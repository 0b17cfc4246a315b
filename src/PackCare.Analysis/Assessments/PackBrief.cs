using PackCare.Core.Estimates;
using PackCare.Core.Packs;

namespace PackCare.Analysis.Assessments;

/// <summary>What a list of packs and the due list show of a pack.</summary>
/// <param name="Pack">The pack.</param>
/// <param name="Standing">Its overall state.</param>
/// <param name="Findings">Gravest first.</param>
/// <param name="RestSpreadMillivolts">Highest less lowest cell at the latest rest, in millivolts, or null.</param>
/// <param name="HealthPercent">Capacity over the reference, in percent, or null.</param>
/// <param name="ResistanceRatio">Resistance of the worst cell over its baseline, or null.</param>
/// <param name="CurrentSpell">The full spell in progress, or null.</param>
/// <param name="LastRecord">The last record of any kind, or null.</param>
public sealed record PackBrief(
    Pack Pack,
    Standing Standing,
    IReadOnlyList<Finding> Findings,
    double? RestSpreadMillivolts,
    Estimate? HealthPercent,
    Estimate? ResistanceRatio,
    FullSpell? CurrentSpell,
    DateTimeOffset? LastRecord)
{
    /// <summary>An assessment in brief.</summary>
    public static PackBrief Of(PackAssessment assessment) => new(
        assessment.Pack,
        assessment.Standing,
        assessment.Findings,
        assessment.Imbalance.RestSpreadMillivolts,
        assessment.Capacity.HealthPercent,
        assessment.Resistance.WorstRatio,
        assessment.FullCharge.CurrentSpell,
        assessment.Usage.Last);
}
