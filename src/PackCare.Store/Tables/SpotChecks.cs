using Microsoft.Data.Sqlite;
using PackCare.Core.Packs;

namespace PackCare.Store.Tables;

/// <summary>Spot checks.</summary>
internal static class SpotChecks
{
    public static ILookup<long, SpotCheck> Read(SqliteConnection connection, long? packId)
    {
        string where = packId is null ? "WHERE s.removed = 0" : "WHERE s.removed = 0 AND s.pack_id = $pack";
        (string, object?)[] parameters = packId is null ? [] : [("$pack", packId)];
        ILookup<long, CellRow> cells = RowReading.All(
            connection,
            $"""
            SELECT c.spot_check_id, c.volts, c.milliohm
            FROM spot_check_cell c JOIN spot_check s ON s.id = c.spot_check_id {where}
            ORDER BY c.spot_check_id, c.cell
            """,
            row => new CellRow(row.GetInt64(0), row.NullableDouble(1), row.NullableDouble(2)),
            parameters).ToLookup(row => row.SpotCheckId);
        return RowReading.All(
            connection,
            $"SELECT s.id, s.pack_id, s.at_utc, s.at_offset_min, s.celsius FROM spot_check s {where} ORDER BY s.at_utc, s.id",
            row => new { PackId = row.GetInt64(1), Check = Read(row, cells) },
            parameters).ToLookup(row => row.PackId, row => row.Check);
    }

    public static SpotCheck Add(SqliteConnection connection, long packId, SpotCheck check, long? number = null)
    {
        using var checks = new Insertion(connection, "spot_check", ["id", "pack_id", "at_utc", "at_offset_min", "celsius"]);
        using var cells = new Insertion(connection, "spot_check_cell", ["spot_check_id", "cell", "volts", "milliohm"]);
        long id = checks.Run(number, packId, Instant.Utc(check.At), Instant.OffsetMinutes(check.At), check.Celsius);
        for (int i = 0; i < Math.Max(check.CellVolts.Count, check.CellMilliohms.Count); i++)
        {
            cells.Run(
                id,
                i + 1,
                i < check.CellVolts.Count ? check.CellVolts[i] : null,
                i < check.CellMilliohms.Count ? check.CellMilliohms[i] : null);
        }

        Changes.Record(connection, ChangeKind.SpotCheck, id);
        Packs.Touch(connection, packId);
        return check with { Id = id };
    }

    private static SpotCheck Read(SqliteDataReader row, ILookup<long, CellRow> cells) => new(
        row.GetInt64(0),
        Instant.Parse(row.GetString(2), row.GetInt64(3)),
        [.. cells[row.GetInt64(0)].Select(cell => cell.Volts).OfType<double>()],
        row.NullableDouble(4),
        [.. cells[row.GetInt64(0)].Select(cell => cell.Milliohm).OfType<double>()]);

    internal sealed record CellRow(long SpotCheckId, double? Volts, double? Milliohm);
}
