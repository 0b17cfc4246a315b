namespace PackCare.Core.Sessions;

/// <summary>
/// How a cell's curve of voltage against charge lies to the pack's median curve: V_cell(q) = V_median(Stretch * q + ShiftAh).
/// A shift alone is a charge offset; a stretch other than 1 is a capacity that differs.
/// </summary>
/// <param name="ShiftAh">By how much the cell is ahead (positive: fuller than the median), in ampere hours.</param>
/// <param name="ShiftStandardErrorAh">One standard error of the shift, in ampere hours.</param>
/// <param name="Stretch">Median capacity over the cell's capacity; above 1 for a smaller cell.</param>
/// <param name="StretchStandardError">One standard error of the stretch.</param>
public sealed record ChargeAlignment(double ShiftAh, double ShiftStandardErrorAh, double Stretch, double StretchStandardError);
