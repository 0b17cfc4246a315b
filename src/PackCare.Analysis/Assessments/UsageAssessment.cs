using PackCare.Core.Estimates;

namespace PackCare.Analysis.Assessments;

/// <summary>How much the pack was used, as far as logs tell.</summary>
/// <param name="Sessions">Logged sessions.</param>
/// <param name="ThroughputAh">Charge that went in, in ampere hours, or null without current logs.</param>
/// <param name="EquivalentFullCycles">Throughput over capacity, or null.</param>
/// <param name="First">First record of any kind, or null.</param>
/// <param name="Last">Last record of any kind, or null.</param>
public sealed record UsageAssessment(int Sessions, double? ThroughputAh, double? EquivalentFullCycles, DateTimeOffset? First, DateTimeOffset? Last)
{
    /// <summary>The same with its interval where the capacity is not the rated but the measured one; null where the figure is a plain count.</summary>
    public Estimate? EstimatedCycles { get; init; }
}
