namespace PackCare.Analysis.Trends;

/// <summary>One observation of a figure that may change.</summary>
/// <param name="At">When.</param>
/// <param name="Value">The figure.</param>
/// <param name="StandardError">Its standard error, positive, as far as it differs from observation to observation.</param>
// A class, since generic code over structures is not compiled ahead and delays every start.
internal sealed record WeightedPoint(DateTimeOffset At, double Value, double StandardError);
