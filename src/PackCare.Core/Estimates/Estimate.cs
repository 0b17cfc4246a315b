namespace PackCare.Core.Estimates;

/// <summary>
/// A figure that was inferred rather than read, with what it is worth. The unit is in the name of the
/// member that holds it. Not a prediction interval unless that member says so.
/// </summary>
/// <param name="Value">The best single figure.</param>
/// <param name="StandardError">One standard error, in the unit of the value; not negative.</param>
/// <param name="Low">Lower end of the interval.</param>
/// <param name="High">Upper end of the interval.</param>
/// <param name="Confidence">How often such an interval is meant to cover the truth, for instance 0.95.</param>
/// <param name="Count">How many observations it rests on; at least 1.</param>
public sealed record Estimate(double Value, double StandardError, double Low, double High, double Confidence, int Count);
