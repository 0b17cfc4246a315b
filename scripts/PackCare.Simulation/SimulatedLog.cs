namespace PackCare.Simulation;

/// <summary>What an instrument saw of one session; all lists have one value a sample.</summary>
/// <param name="Seconds">Time since the first sample, in seconds.</param>
/// <param name="Amperes">Current into the pack in amperes.</param>
/// <param name="PackVolts">Voltage at the instrument, leads included, in volts.</param>
/// <param name="CellVolts">Voltages in volts: one array a cell, first cell first.</param>
/// <param name="ChargeAh">Charge moved into the pack since the first sample, in ampere hours.</param>
/// <param name="Celsius">Temperature in degrees Celsius.</param>
public sealed record SimulatedLog(
    double[] Seconds,
    double[] Amperes,
    double[] PackVolts,
    double[][] CellVolts,
    double[] ChargeAh,
    double[] Celsius)
{
    /// <summary>How many samples.</summary>
    public int Count => Seconds.Length;
}
