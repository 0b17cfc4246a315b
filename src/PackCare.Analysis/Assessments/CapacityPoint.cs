using PackCare.Core.Estimates;

namespace PackCare.Analysis.Assessments;

/// <summary>The capacity that one session shows.</summary>
/// <param name="At">When.</param>
/// <param name="SessionId">The session.</param>
/// <param name="AmpereHours">The capacity in ampere hours.</param>
/// <param name="Complete">Whether it was counted over a complete charge or discharge; else it was concluded from a part.</param>
/// <param name="Share">With what share of its weight it counts in the trend: 1 for one in line, less for an outlier.</param>
public sealed record CapacityPoint(DateTimeOffset At, long SessionId, Estimate AmpereHours, bool Complete, double Share = 1);
