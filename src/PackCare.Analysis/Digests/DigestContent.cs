using PackCare.Analysis.Assessments;
using PackCare.Analysis.FullCharge;
using PackCare.Analysis.Standings;
using PackCare.Core.Estimates;

namespace PackCare.Analysis.Digests;

/// <summary>What is kept of a judgement.</summary>
/// <param name="From">From when on it holds.</param>
/// <param name="Until">Until when it holds, that moment not included.</param>
/// <param name="RestSpreadMillivolts">Rest spread, in millivolts, or null.</param>
/// <param name="HealthPercent">Capacity over the reference, in percent, or null.</param>
/// <param name="ResistanceRatio">Resistance of the worst cell over its baseline, or null.</param>
/// <param name="LastRecord">The last record of any kind, or null.</param>
/// <param name="JudgedSessions">Sessions with the cells of the pack.</param>
/// <param name="Before">Findings that stand before those of keeping.</param>
/// <param name="After">Findings that stand after them.</param>
/// <param name="Passing">What findings of keeping are made from.</param>
/// <param name="Limits">The limits that they are held against.</param>
internal sealed record DigestContent(
    DateTimeOffset From,
    DateTimeOffset Until,
    double? RestSpreadMillivolts,
    Estimate? HealthPercent,
    Estimate? ResistanceRatio,
    DateTimeOffset? LastRecord,
    int JudgedSessions,
    IReadOnlyList<Finding> Before,
    IReadOnlyList<Finding> After,
    Passing Passing,
    CareLimits Limits);
