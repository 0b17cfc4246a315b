namespace PackCare.Analysis;

/// <summary>Charge drawn from a full pack until its lowest cell was down to a cut-off voltage, counted to either of two ends.</summary>
/// <param name="ToCrossingAh">To the moment at which the voltage crossed the cut-off, interpolated between two samples; in ampere hours.</param>
/// <param name="ToFirstSampleAh">To the first sample at or below the cut-off, with the whole of its interval, as measurements that stop by a sampled voltage are summed up; in ampere hours, never less than the other.</param>
public readonly record struct DrawnCharge(double ToCrossingAh, double ToFirstSampleAh);
