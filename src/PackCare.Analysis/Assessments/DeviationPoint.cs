namespace PackCare.Analysis.Assessments;

/// <summary>How far each cell stood from the pack's median at rest, at one moment.</summary>
/// <param name="At">When.</param>
/// <param name="SessionId">The session it was read in; null for a spot check.</param>
/// <param name="AfterFullCharge">Whether it was read after a completed charge, where a spread should be small.</param>
/// <param name="MeanVolts">Mean cell voltage, in volts.</param>
/// <param name="Millivolts">One deviation a cell, in millivolts, in cell order; positive above the median.</param>
public sealed record DeviationPoint(DateTimeOffset At, long? SessionId, bool AfterFullCharge, double MeanVolts, IReadOnlyList<double> Millivolts);
