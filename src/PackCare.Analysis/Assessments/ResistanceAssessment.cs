using PackCare.Core.Estimates;

namespace PackCare.Analysis.Assessments;

/// <summary>What is known of the resistances.</summary>
/// <param name="ReferenceCelsius">The temperature to which they are corrected, in degrees Celsius.</param>
/// <param name="LagSeconds">The lag of the series that the judgement rests on, in seconds; null without one.</param>
/// <param name="Cells">One a cell.</param>
/// <param name="LeadMilliohms">Leads and connector, in milliohms, or null.</param>
/// <param name="WatchRatio">The watch limit as a multiple of the baseline.</param>
/// <param name="ActRatio">The act limit as a multiple of the baseline.</param>
/// <param name="Series">All points in order of time.</param>
public sealed record ResistanceAssessment(
    double ReferenceCelsius,
    double? LagSeconds,
    IReadOnlyList<CellResistance> Cells,
    Estimate? LeadMilliohms,
    double WatchRatio,
    double ActRatio,
    IReadOnlyList<ResistancePoint> Series)
{
    /// <summary>What readings at unlike temperatures say, a sentence each.</summary>
    public IReadOnlyList<string> Temperature { get; init; } = [];

    /// <summary>The ratio of the cell that has the largest, or null where none is known.</summary>
    public Estimate? WorstRatio => Cells.Select(cell => cell.Ratio).OfType<Estimate>().MaxBy(ratio => ratio.Value);
}
