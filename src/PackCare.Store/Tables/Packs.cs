using Dapper;
using Microsoft.Data.Sqlite;
using PackCare.Core.Packs;

namespace PackCare.Store.Tables;

/// <summary>Packs and their retirements.</summary>
internal static class Packs
{
    private const string Columns =
        """
        SELECT p.id, p.label, p.cells, p.parallel, p.chemistry, p.rated_capacity_ah, p.rated_discharge_c,
               p.bought, p.price, p.currency, p.vehicle, p.connector, p.added_utc, p.added_offset_min,
               r.at_utc, r.at_offset_min, r.reason
        """;

    private const string Select = Columns +
        """

        FROM pack p
        LEFT JOIN retirement r ON r.id = (SELECT max(id) FROM retirement WHERE pack_id = p.id AND removed = 0)
        WHERE p.removed = 0
        """;

    public static IReadOnlyList<Pack> All(SqliteConnection connection) =>
        RowReading.All(connection, Select + " ORDER BY p.label_key", PackRow.Read);

    public static IReadOnlyList<PackWithDigest> WithDigests(SqliteConnection connection, string name) =>
        RowReading.All(
            connection,
            Columns +
            """
            , p.revision, d.content
            FROM pack p
            LEFT JOIN retirement r ON r.id = (SELECT max(id) FROM retirement WHERE pack_id = p.id AND removed = 0)
            LEFT JOIN digest d ON d.pack_id = p.id AND d.name = $name AND d.revision = p.revision
            WHERE p.removed = 0
            ORDER BY p.label_key
            """,
            row => new PackWithDigest(PackRow.Read(row), row.GetInt64(17), row.NullableText(18)),
            ("$name", name));

    public static Pack? Find(SqliteConnection connection, string label) =>
        RowReading.All(connection, Select + " AND p.label_key = $key", PackRow.Read, ("$key", Key(label))).FirstOrDefault();

    /// <exception cref="HistoryException">There is no such pack.</exception>
    public static void Demand(SqliteConnection connection, long id)
    {
        if (connection.ExecuteScalar<long>("SELECT count(*) FROM pack WHERE id = @id AND removed = 0", new { id }) == 0)
        {
            throw Absent(id);
        }
    }

    public static Pack? Add(SqliteConnection connection, PackDetails details, DateTimeOffset at, long? number = null)
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
        long id = insertion.Run(
            number,
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
        Changes.Record(connection, ChangeKind.Pack, id);
        return new Pack(id, details, at);
    }

    public static void Retire(SqliteConnection connection, long packId, Retirement retirement, long? number = null)
    {
        using var insertion = new Insertion(connection, "retirement", ["id", "pack_id", "at_utc", "at_offset_min", "reason"]);
        long id = insertion.Run(number, packId, Instant.Utc(retirement.At), Instant.OffsetMinutes(retirement.At), retirement.Reason);
        Changes.Record(connection, ChangeKind.Retirement, id);
        Touch(connection, packId);
    }

    /// <summary>Notes that what is on record about a pack has changed.</summary>
    /// <exception cref="HistoryException">There is no such pack.</exception>
    public static void Touch(SqliteConnection connection, long id)
    {
        if (connection.Execute("UPDATE pack SET revision = revision + 1 WHERE id = @id AND removed = 0", new { id }) == 0)
        {
            throw Absent(id);
        }
    }

    public static bool IsReferredTo(SqliteConnection connection, long id) => connection.ExecuteScalar<bool>(
        """
        SELECT EXISTS (SELECT 1 FROM session WHERE pack_id = @id AND removed = 0)
            OR EXISTS (SELECT 1 FROM spot_check WHERE pack_id = @id AND removed = 0)
            OR EXISTS (SELECT 1 FROM diary_entry WHERE pack_id = @id AND removed = 0)
            OR EXISTS (SELECT 1 FROM retirement WHERE pack_id = @id AND removed = 0)
        """,
        new { id });

    public static IReadOnlyDictionary<long, long> Revisions(SqliteConnection connection) =>
        RowReading.All(connection, "SELECT id, revision FROM pack WHERE removed = 0", row => (Id: row.GetInt64(0), Revision: row.GetInt64(1)))
            .ToDictionary(row => row.Id, row => row.Revision);

    private static HistoryException Absent(long id) =>
        Opening.Faults.Conflict($"There is no pack number {id} in the history (any more), and nothing was changed.");

    // SQLite's own NOCASE knows only the letters A to Z.
    private static string Key(string label) => label.ToUpperInvariant();
}
