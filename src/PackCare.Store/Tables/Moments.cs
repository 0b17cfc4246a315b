using Microsoft.Data.Sqlite;

namespace PackCare.Store.Tables;

/// <summary>When things on record happened, each found by a step or two in an index, whatever the length of the record.</summary>
internal static class Moments
{
    public static DateTimeOffset? LatestAfter(SqliteConnection connection, DateTimeOffset moment, long? packId)
    {
        string packs = packId is null ? "p.removed = 0" : "p.id = $pack";
        string waiting = packId is null
            ? """
                UNION ALL SELECT max(started_utc) FROM session WHERE pack_id IS NULL AND removed = 0 AND started_utc > $moment
                UNION ALL SELECT * FROM (SELECT imported_utc FROM file WHERE removed = 0 ORDER BY id DESC LIMIT 1)
              """
            : string.Empty;
        string? latest = RowReading.All(
            connection,
            $"""
            SELECT max(at) FROM
            (
                SELECT (SELECT max(started_utc) FROM session WHERE pack_id = p.id AND removed = 0 AND started_utc > $moment) AS at FROM pack p WHERE {packs}
                UNION ALL SELECT (SELECT max(at_utc) FROM spot_check WHERE pack_id = p.id AND removed = 0 AND at_utc > $moment) FROM pack p WHERE {packs}
                UNION ALL SELECT (SELECT max(at_utc) FROM diary_entry WHERE pack_id = p.id AND removed = 0 AND at_utc > $moment) FROM pack p WHERE {packs}
                {waiting}
            )
            WHERE at > $moment
            """,
            row => row.NullableText(0),
            packId is null ? [("$moment", Instant.Utc(moment))] : [("$moment", Instant.Utc(moment)), ("$pack", packId)])[0];
        return latest is null ? null : Instant.Parse(latest, 0);
    }

    public static IReadOnlyDictionary<long, DateTimeOffset> FirstUses(SqliteConnection connection) =>
        RowReading.All(
            connection,
            """
            SELECT p.id, s.started_utc, s.started_offset_min
            FROM pack p
            JOIN session s ON s.id = (SELECT id FROM session WHERE pack_id = p.id AND removed = 0 ORDER BY started_utc, id LIMIT 1)
            WHERE p.removed = 0
            """,
            row => (PackId: row.GetInt64(0), Started: Instant.Parse(row.GetString(1), row.GetInt64(2)))).ToDictionary(row => row.PackId, row => row.Started);
}
