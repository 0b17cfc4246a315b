using PackCare.Analysis.Assessments;

namespace PackCare.Report;

/// <summary>What a report is made of.</summary>
/// <param name="Made">The moment for which it holds.</param>
/// <param name="Packs">The packs to draw, in any order.</param>
/// <param name="Due">The due list over all packs.</param>
/// <param name="Notice">A line to show on top (that the data is invented, for instance), or null.</param>
public sealed record ReportInput(
    DateTimeOffset Made,
    IReadOnlyList<ReportPack> Packs,
    IReadOnlyList<DueItem> Due,
    string? Notice)
{
    /// <summary>The order in which dates are written on pages.</summary>
    public DateOrder Dates { get; init; }
}
