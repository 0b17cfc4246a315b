using PackCare.Core.Estimates;

namespace PackCare.Analysis.Assessments;

/// <summary>A cell's resistance in one session, corrected to the reference temperature.</summary>
/// <param name="At">When.</param>
/// <param name="SessionId">The session; null for a spot check's instrument reading.</param>
/// <param name="Cell">Cell number from 1.</param>
/// <param name="Milliohms">The resistance in milliohms at the reference temperature.</param>
/// <param name="LagSeconds">Time after the current step, in seconds; 0 for an instrument's reading.</param>
/// <param name="FromInstrument">Whether an instrument stated it; such values are a series of their own.</param>
/// <param name="Share">With what share of its weight it counts in the trend: 1 for one in line, less for an outlier.</param>
public sealed record ResistancePoint(DateTimeOffset At, long? SessionId, int Cell, Estimate Milliohms, double LagSeconds, bool FromInstrument, double Share = 1);
