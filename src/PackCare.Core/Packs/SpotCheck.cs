namespace PackCare.Core.Packs;

/// <summary>Cell voltages read by hand at one moment, the pack at rest.</summary>
/// <param name="Id">Its number in this history; 0 before it is stored.</param>
/// <param name="At">When, with the offset at which it was entered.</param>
/// <param name="CellVolts">One voltage a cell, in volts, in cell order.</param>
/// <param name="Celsius">Temperature of the pack in degrees Celsius, or null.</param>
/// <param name="CellMilliohms">Resistances as an instrument stated them, in milliohms, in cell order; empty where none were read.</param>
public sealed record SpotCheck(long Id, DateTimeOffset At, IReadOnlyList<double> CellVolts, double? Celsius, IReadOnlyList<double> CellMilliohms);
