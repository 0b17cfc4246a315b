namespace PackCare.Import.Meanings;

/// <summary>One row of a log as what flows is told from it.</summary>
/// <param name="Session">Its session, from 0.</param>
/// <param name="Number">Its number in the log, from 0.</param>
/// <param name="Place">Its place among the rows of its session, with one left out where rows were passed over.</param>
/// <param name="Seconds">Its time; in the log's own unit where that is open.</param>
/// <param name="Volts">The middle one of the cells, or the pack voltage.</param>
/// <param name="Amps">The current as logged.</param>
/// <param name="Direction">What its mode says: 1 for charging, -1 for discharging, 0 for neither.</param>
internal readonly record struct FlowRow(int Session, int Number, int Place, double Seconds, double Volts, double Amps, int Direction);
