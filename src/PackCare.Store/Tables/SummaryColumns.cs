using Microsoft.Data.Sqlite;
using PackCare.Core.Sessions;

namespace PackCare.Store.Tables;

/// <summary>The columns of summaries: their order, their writing and their reading in one place.</summary>
internal static class SummaryColumns
{
    public static readonly string[] Session =
    [
        "session_id", "method_version", "kind", "duration_s", "sample_count", "interval_s",
        "charge_in_ah", "charge_out_ah", "energy_in_wh", "energy_out_wh", "peak_charge_a", "peak_discharge_a",
        "mean_celsius", "min_celsius", "max_celsius", "start_rest_s", "end_rest_s", "completed",
        "lead_ohm", "lead_standard_error_ohm", "lead_count", "lead_lag_s", "lead_celsius",
    ];

    public static readonly string[] Cell =
    [
        "session_id", "cell", "start_v", "end_v", "start_rest_v", "end_rest_v", "min_v", "max_v",
        "step_ohm", "step_standard_error_ohm", "step_count", "step_lag_s", "step_celsius",
        "stated_ohm", "stated_standard_error_ohm", "stated_count", "stated_lag_s", "stated_celsius",
        "shift_ah", "shift_standard_error_ah", "stretch", "stretch_standard_error",
    ];

    public static object?[] Values(long sessionId, SessionSummary s) =>
    [
        sessionId, s.MethodVersion, Words.SessionKind.Of(s.Kind), s.DurationSeconds, s.SampleCount, s.IntervalSeconds,
        s.ChargeInAh, s.ChargeOutAh, s.EnergyInWh, s.EnergyOutWh, s.PeakChargeAmperes, s.PeakDischargeAmperes,
        s.MeanCelsius, s.MinCelsius, s.MaxCelsius, s.StartRestSeconds, s.EndRestSeconds, s.Completed ? 1L : 0L,
        .. Values(s.LeadResistance),
    ];

    public static object?[] Values(long sessionId, CellSummary c) =>
    [
        sessionId, c.Cell, c.StartVolts, c.EndVolts, c.StartRestVolts, c.EndRestVolts, c.MinVolts, c.MaxVolts,
        .. Values(c.Resistance),
        .. Values(c.InstrumentResistance),
        c.Alignment?.ShiftAh, c.Alignment?.ShiftStandardErrorAh, c.Alignment?.Stretch, c.Alignment?.StretchStandardError,
    ];

    /// <summary>Reads a summary whose method_version is in the given column.</summary>
    public static SessionSummary ReadSession(SqliteDataReader row, int at, IReadOnlyList<CellSummary> cells) => new(
        row.GetInt32(at),
        Words.SessionKind.Parse(row.GetString(at + 1)),
        row.GetDouble(at + 2),
        row.GetInt32(at + 3),
        row.NullableDouble(at + 4),
        row.NullableDouble(at + 5),
        row.NullableDouble(at + 6),
        row.NullableDouble(at + 7),
        row.NullableDouble(at + 8),
        row.NullableDouble(at + 9),
        row.NullableDouble(at + 10),
        row.NullableDouble(at + 11),
        row.NullableDouble(at + 12),
        row.NullableDouble(at + 13),
        row.NullableDouble(at + 14),
        row.NullableDouble(at + 15),
        row.GetInt64(at + 16) != 0,
        ReadResistance(row, at + 17),
        cells);

    /// <summary>Reads a cell summary whose cell number is in the given column.</summary>
    public static CellSummary ReadCell(SqliteDataReader row, int at) => new(
        row.GetInt32(at),
        row.NullableDouble(at + 1),
        row.NullableDouble(at + 2),
        row.NullableDouble(at + 3),
        row.NullableDouble(at + 4),
        row.NullableDouble(at + 5),
        row.NullableDouble(at + 6),
        ReadResistance(row, at + 7),
        ReadResistance(row, at + 12),
        ReadAlignment(row, at + 17));

    private static object?[] Values(ResistanceReading? r) =>
        r is null ? new object?[5] : [r.Ohms, r.StandardErrorOhms, r.Count, r.LagSeconds, r.Celsius];

    private static ResistanceReading? ReadResistance(SqliteDataReader row, int at) =>
        row.IsDBNull(at)
            ? null
            : new(row.GetDouble(at), row.GetDouble(at + 1), row.GetInt32(at + 2), row.GetDouble(at + 3), row.NullableDouble(at + 4));

    private static ChargeAlignment? ReadAlignment(SqliteDataReader row, int at) =>
        row.IsDBNull(at)
            ? null
            : new(row.GetDouble(at), row.GetDouble(at + 1), row.GetDouble(at + 2), row.GetDouble(at + 3));
}
