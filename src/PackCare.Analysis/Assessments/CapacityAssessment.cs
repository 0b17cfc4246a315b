using PackCare.Core.Estimates;

namespace PackCare.Analysis.Assessments;

/// <summary>How much the pack still holds.</summary>
/// <param name="LatestAh">Capacity now, in ampere hours, or null.</param>
/// <param name="ReferenceAh">What it is held against, in ampere hours: the rated capacity, else the first measured; null with neither.</param>
/// <param name="ReferenceIsRated">Whether that is the rated capacity.</param>
/// <param name="HealthPercent">Latest over reference, in percent, or null.</param>
/// <param name="TrendAh">How it changes, in ampere hours.</param>
/// <param name="Per100CyclesPercent">Change in 100 equivalent full cycles, in percent of the reference, or null.</param>
/// <param name="WatchPercent">The watch limit, in percent.</param>
/// <param name="ActPercent">The act limit, in percent.</param>
/// <param name="LimitReached">When the act limit is reached.</param>
/// <param name="Series">All points in order of time.</param>
/// <param name="Efficiency">Capacity from discharges over capacity from charges, or null with fewer than two of either; near 1 where charge is counted alike both ways.</param>
public sealed record CapacityAssessment(
    Estimate? LatestAh,
    double? ReferenceAh,
    bool ReferenceIsRated,
    Estimate? HealthPercent,
    Trend TrendAh,
    Estimate? Per100CyclesPercent,
    double WatchPercent,
    double ActPercent,
    LimitDate LimitReached,
    IReadOnlyList<CapacityPoint> Series,
    Estimate? Efficiency = null)
{
    /// <summary>The first measured capacity, in ampere hours, where that is what the pack is held against; null where a rated one is, or too little was measured.</summary>
    public Estimate? FirstMeasuredAh { get; init; }
}
