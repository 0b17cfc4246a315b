namespace PackCare.Report.Charts;

/// <summary>A place on an axis and what is written there.</summary>
internal readonly record struct AxisMark(double At, string Label);
