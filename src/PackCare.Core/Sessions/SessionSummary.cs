namespace PackCare.Core.Sessions;

/// <summary>
/// What the analysis needs of a session, so that years of history are judged without touching samples.
/// Derived from samples alone, and made again from them whenever the method changes.
/// </summary>
/// <param name="MethodVersion">Which version of the method made it.</param>
/// <param name="Kind">What it mostly did.</param>
/// <param name="DurationSeconds">First to last sample, in seconds.</param>
/// <param name="SampleCount">How many samples.</param>
/// <param name="IntervalSeconds">Median time between samples, in seconds; null with fewer than two.</param>
/// <param name="ChargeInAh">Charge that flowed in, in ampere hours, not negative; null without a current channel.</param>
/// <param name="ChargeOutAh">Charge that flowed out, in ampere hours, not negative; null without a current channel.</param>
/// <param name="EnergyInWh">Energy that flowed in, in watt hours, not negative; null without current and voltage.</param>
/// <param name="EnergyOutWh">Energy that flowed out, in watt hours, not negative; null without current and voltage.</param>
/// <param name="PeakChargeAmperes">Highest current in, in amperes, not negative.</param>
/// <param name="PeakDischargeAmperes">Highest current out, in amperes, not negative.</param>
/// <param name="MeanCelsius">Mean temperature over time in degrees Celsius, or null.</param>
/// <param name="MinCelsius">Lowest temperature in degrees Celsius, or null.</param>
/// <param name="MaxCelsius">Highest temperature in degrees Celsius, or null.</param>
/// <param name="StartRestSeconds">How long the pack was seen at rest before current flowed, in seconds; null where it was not.</param>
/// <param name="EndRestSeconds">How long the pack was seen at rest after current had stopped, in seconds; null where it was not.</param>
/// <param name="Completed">
/// True where a charge was seen to taper off at its end voltage, or a discharge to end by itself at a low cell;
/// false where it was cut short or cannot be told.
/// </param>
/// <param name="LeadResistance">Resistance between cells and instrument, leads and connector, or null.</param>
/// <param name="Cells">One a cell, in cell order; empty where only the pack was logged.</param>
public sealed record SessionSummary(
    int MethodVersion,
    SessionKind Kind,
    double DurationSeconds,
    int SampleCount,
    double? IntervalSeconds,
    double? ChargeInAh,
    double? ChargeOutAh,
    double? EnergyInWh,
    double? EnergyOutWh,
    double? PeakChargeAmperes,
    double? PeakDischargeAmperes,
    double? MeanCelsius,
    double? MinCelsius,
    double? MaxCelsius,
    double? StartRestSeconds,
    double? EndRestSeconds,
    bool Completed,
    ResistanceReading? LeadResistance,
    IReadOnlyList<CellSummary> Cells)
{
    /// <summary>Charge in less charge out, in ampere hours; null without a current channel.</summary>
    public double? NetChargeAh => ChargeInAh - ChargeOutAh;

    /// <summary>Energy in less energy out, in watt hours; null without current and voltage.</summary>
    public double? NetEnergyWh => EnergyInWh - EnergyOutWh;

    /// <summary>Highest less lowest cell at rest in millivolts, after the current where that was seen, else before it; null where neither was.</summary>
    public double? RestSpreadMillivolts => SpreadMillivolts(cell => cell.EndRestVolts) ?? SpreadMillivolts(cell => cell.StartRestVolts);

    /// <summary>Highest less lowest cell at the last reading in millivolts, current or not; null where a cell has none.</summary>
    public double? EndSpreadMillivolts => SpreadMillivolts(cell => cell.EndVolts);

    private double? SpreadMillivolts(Func<CellSummary, double?> volts) =>
        Cells.Count > 0 && Cells.All(cell => volts(cell) is not null)
            ? (Cells.Max(volts) - Cells.Min(volts)) * 1000
            : null;
}
