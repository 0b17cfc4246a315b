namespace PackCare.Core.Sessions;

/// <summary>What one session shows of one cell. Voltages in volts; null where the session has no such reading.</summary>
/// <param name="Cell">Cell number from 1.</param>
/// <param name="StartVolts">First reading.</param>
/// <param name="EndVolts">Last reading.</param>
/// <param name="StartRestVolts">Voltage at rest before current flowed.</param>
/// <param name="EndRestVolts">Voltage at rest after current had stopped.</param>
/// <param name="MinVolts">Lowest reading.</param>
/// <param name="MaxVolts">Highest reading.</param>
/// <param name="Resistance">From current steps.</param>
/// <param name="InstrumentResistance">As the instrument itself stated it; a series of its own.</param>
/// <param name="Alignment">Against the pack's median curve.</param>
public sealed record CellSummary(
    int Cell,
    double? StartVolts,
    double? EndVolts,
    double? StartRestVolts,
    double? EndRestVolts,
    double? MinVolts,
    double? MaxVolts,
    ResistanceReading? Resistance = null,
    ResistanceReading? InstrumentResistance = null,
    ChargeAlignment? Alignment = null);
