using Dapper;
using Microsoft.Data.Sqlite;
using PackCare.Core.Packs;

namespace PackCare.Store.Tables;

/// <summary>Spot checks.</summary>
internal static class SpotChecks
{
    public static ILookup<long, SpotCheck> Read(SqliteConnection connection, long? packId)
    {
        string where = packId is null ? "WHERE s.removed = 0" : "WHERE s.removed = 0 AND s.pack_id = @packId";
        ILookup<long, CellRow> cells = connection.Query<CellRow>(
            $"""
            SELECT c.spot_check_id AS SpotCheckId, c.volts AS Volts, c.milliohm AS Milliohm
            FROM spot_check_cell c JOIN spot_check s ON s.id = c.spot_check_id {where}
            ORDER BY c.spot_check_id, c.cell
            """,
            new { packId }).ToLookup(row => row.SpotCheckId);
        return connection.Query<Row>(
            $"""
            SELECT s.id AS Id, s.pack_id AS PackId, s.at_utc AS AtUtc, s.at_offset_min AS AtOffsetMin, s.celsius AS Celsius
            FROM spot_check s {where} ORDER BY s.at_utc, s.id
            """,
            new { packId }).ToLookup(row => row.PackId, row => row.ToSpotCheck(cells[row.Id]));
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

    private sealed record CellRow(long SpotCheckId, double? Volts, double? Milliohm);

    private sealed record Row(long Id, long PackId, string AtUtc, long AtOffsetMin, double? Celsius)
    {
        public SpotCheck ToSpotCheck(IEnumerable<CellRow> cells) => new(
            Id,
            Instant.Parse(AtUtc, AtOffsetMin),
            [.. cells.Select(cell => cell.Volts).OfType<double>()],
            Celsius,
            [.. cells.Select(cell => cell.Milliohm).OfType<double>()]);
    }
}
