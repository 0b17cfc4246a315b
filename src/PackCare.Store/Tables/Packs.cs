using Dapper;
using Microsoft.Data.Sqlite;
using PackCare.Core.Packs;

namespace PackCare.Store.Tables;

/// <summary>Packs and their retirements.</summary>
internal static class Packs
{
    private const string Select =
        """
        SELECT p.id AS Id, p.label AS Label, p.cells AS Cells, p.parallel AS Parallel, p.chemistry AS Chemistry,
               p.rated_capacity_ah AS RatedCapacityAh, p.rated_discharge_c AS RatedDischargeC, p.bought AS Bought,
               p.price AS Price, p.currency AS Currency, p.vehicle AS Vehicle, p.connector AS Connector,
               p.added_utc AS AddedUtc, p.added_offset_min AS AddedOffsetMin,
               r.at_utc AS RetiredUtc, r.at_offset_min AS RetiredOffsetMin, r.reason AS RetiredReason
        FROM pack p
        LEFT JOIN retirement r ON r.id = (SELECT max(id) FROM retirement WHERE pack_id = p.id)
        """;

    public static IReadOnlyList<Pack> All(SqliteConnection connection) =>
        [.. connection.Query<PackRow>(Select + " ORDER BY p.label_key").Select(row => row.ToPack())];

    public static Pack? Find(SqliteConnection connection, string label) =>
        connection.QueryFirstOrDefault<PackRow>(Select + " WHERE p.label_key = @key", new { key = Key(label) })?.ToPack();

    public static Pack? Find(SqliteConnection connection, long id) =>
        connection.QueryFirstOrDefault<PackRow>(Select + " WHERE p.id = @id", new { id })?.ToPack();

    /// <exception cref="HistoryException">There is no such pack.</exception>
    public static void Demand(SqliteConnection connection, long id)
    {
        if (connection.ExecuteScalar<long>("SELECT count(*) FROM pack WHERE id = @id", new { id }) == 0)
        {
            throw Opening.Faults.Conflict($"There is no pack number {id} in the history (any more), and nothing was changed.");
        }
    }

    public static Pack? Add(SqliteConnection connection, PackDetails details, DateTimeOffset at)
    {
        if (Find(connection, details.Label) is not null)
        {
            return null;
        }

        using var insertion = new Insertion(
            connection,
            "pack",
            [
                "id", "label", "label_key", "cells", "parallel", "chemistry", "rated_capacity_ah", "rated_discharge_c",
                "bought", "price", "currency", "vehicle", "connector", "added_utc", "added_offset_min",
            ]);
        long id = (long)insertion.Run(
            null,
            details.Label,
            Key(details.Label),
            details.Cells,
            details.Parallel,
            Words.Chemistry.Of(details.Chemistry),
            details.RatedCapacity?.Value,
            details.RatedDischargeC,
            PackRow.Day(details.Bought),
            PackRow.Amount(details.Price),
            details.Currency,
            details.Vehicle,
            details.Connector,
            Instant.Utc(at),
            Instant.OffsetMinutes(at));
        return new Pack(id, details, at);
    }

    public static void Retire(SqliteConnection connection, long packId, Retirement retirement)
    {
        using var insertion = new Insertion(connection, "retirement", ["id", "pack_id", "at_utc", "at_offset_min", "reason"]);
        insertion.Run(null, packId, Instant.Utc(retirement.At), Instant.OffsetMinutes(retirement.At), retirement.Reason);
    }

    // SQLite's own NOCASE knows only the letters A to Z.
    private static string Key(string label) => label.ToUpperInvariant();
}
