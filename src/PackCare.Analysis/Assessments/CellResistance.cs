using PackCare.Core.Estimates;

namespace PackCare.Analysis.Assessments;

/// <summary>What is known of one cell's resistance at the reference temperature.</summary>
/// <param name="Cell">Cell number from 1.</param>
/// <param name="Milliohms">Its resistance now, in milliohms, or null.</param>
/// <param name="BaselineMilliohms">Its resistance in its first good sessions, in milliohms, or null.</param>
/// <param name="Ratio">Now over baseline, or null.</param>
/// <param name="TrendMilliohms">How it changes, in milliohms.</param>
/// <param name="Per100CyclesMilliohms">Change in 100 equivalent full cycles, in milliohms, or null.</param>
/// <param name="LimitReached">When the act limit (a multiple of the baseline) is reached.</param>
public sealed record CellResistance(
    int Cell,
    Estimate? Milliohms,
    Estimate? BaselineMilliohms,
    Estimate? Ratio,
    Trend TrendMilliohms,
    Estimate? Per100CyclesMilliohms,
    LimitDate LimitReached);
