using System.Globalization;
using Dapper;
using Microsoft.Data.Sqlite;
using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Store.Opening;
using PackCare.Store.Tables;

namespace PackCare.Store.Health;

/// <summary>
/// Puts right what the examiner finds in rows. Nothing that was measured is thrown away: readings whose owner is lost get
/// a stand-in, damaged blocks are set aside; only what was derived is removed.
/// </summary>
internal static class Repairer
{
    public static void Repair(SqliteConnection connection, DateTimeOffset now)
    {
        RecoverSpotChecks(connection, now);
        RecoverPacks(connection, now);
        RecoverSessions(connection, now);
        RecoverFiles(connection, now);
        Script.Run(
            connection,
            """
            DELETE FROM cell_summary WHERE session_id NOT IN (SELECT session_id FROM session_summary);
            DELETE FROM session_summary WHERE session_id NOT IN (SELECT id FROM session);
            DELETE FROM digest;
            DELETE FROM change WHERE kind = 'pack' AND subject_id NOT IN (SELECT id FROM pack);
            DELETE FROM change WHERE kind = 'import' AND subject_id NOT IN (SELECT id FROM file);
            DELETE FROM change WHERE kind = 'assignment' AND subject_id NOT IN (SELECT id FROM session);
            DELETE FROM change WHERE kind = 'spot-check' AND subject_id NOT IN (SELECT id FROM spot_check);
            DELETE FROM change WHERE kind = 'entry' AND subject_id NOT IN (SELECT id FROM diary_entry);
            DELETE FROM change WHERE kind = 'retirement' AND subject_id NOT IN (SELECT id FROM retirement);
            """);
        foreach (SessionBlocks session in SessionBlocks.All(connection).Where(session => session.TimeIsWhole && (session.Bad.Any() || session.Holes.Any())).ToList())
        {
            RepairBlocks(connection, session);
        }
    }

    private static void RepairBlocks(SqliteConnection connection, SessionBlocks session)
    {
        foreach (SessionBlocks.Found bad in session.Bad)
        {
            connection.Execute(
                """
                INSERT INTO damaged_block (session_id, kind, idx, ordinal, count, encoded, checksum)
                SELECT session_id, kind, idx, ordinal, count, encoded, checksum FROM sample_block WHERE id = @Id
                """,
                bad);
            connection.Execute("DELETE FROM sample_block WHERE id = @Id", bad);
        }

        using var blocks = new SampleBlocks(connection);
        foreach ((ChannelKey key, int ordinal) in session.Holes)
        {
            var missing = new long[session.Counts[ordinal - 1]];
            Array.Fill(missing, BlockCodec.Missing);
            blocks.Add(session.SessionId, key, ordinal, BlockCodec.Encode(missing, 0));
        }
    }

    private static void RecoverSpotChecks(SqliteConnection connection, DateTimeOffset now)
    {
        List<long> lost = [.. connection.Query<long>("SELECT DISTINCT spot_check_id FROM spot_check_cell WHERE spot_check_id NOT IN (SELECT id FROM spot_check)")];
        if (lost.Count == 0)
        {
            return;
        }

        long pack = 1 + connection.ExecuteScalar<long>("SELECT max(coalesce((SELECT max(id) FROM pack), 0), coalesce((SELECT seq FROM sqlite_sequence WHERE name = 'pack'), 0))");
        foreach (long id in lost)
        {
            connection.Execute("INSERT INTO spot_check (id, pack_id, at_utc, at_offset_min) VALUES (@id, @pack, @at, 0)", new { id, pack = AddPack(connection, pack, 1, now), at = Instant.Utc(now) });
        }
    }

    private static void RecoverPacks(SqliteConnection connection, DateTimeOffset now)
    {
        connection.Execute(
            """
            UPDATE session SET pack_hint = coalesce(pack_hint, 'pack number ' || pack_id), pack_id = NULL
            WHERE pack_id IS NOT NULL AND pack_id NOT IN (SELECT id FROM pack)
            """);
        foreach ((long id, long cells) in RowReading.All(
            connection,
            """
            SELECT o.pack_id, coalesce((
                SELECT min(24, max(c.cell)) FROM spot_check s JOIN spot_check_cell c ON c.spot_check_id = s.id WHERE s.pack_id = o.pack_id), 1)
            FROM (SELECT pack_id FROM spot_check UNION SELECT pack_id FROM diary_entry UNION SELECT pack_id FROM retirement) o
            WHERE o.pack_id NOT IN (SELECT id FROM pack)
            """,
            row => (row.GetInt64(0), row.GetInt64(1))))
        {
            AddPack(connection, id, cells, now);
        }
    }

    private static long AddPack(SqliteConnection connection, long id, long cells, DateTimeOffset now)
    {
        string label = string.Create(CultureInfo.InvariantCulture, $"recovered {id}");
        connection.Execute(
            """
            INSERT INTO pack (id, label, label_key, cells, parallel, chemistry, added_utc, added_offset_min)
            VALUES (@id, @label, @key, @cells, 1, 'lipo', @added, 0) ON CONFLICT (id) DO NOTHING
            """,
            new { id, label, key = label.ToUpperInvariant(), cells, added = Instant.Utc(now) });
        return id;
    }

    private static void RecoverSessions(SqliteConnection connection, DateTimeOffset now)
    {
        List<long> lost =
        [
            .. connection.Query<long>(
                """
                SELECT DISTINCT session_id FROM (SELECT session_id FROM sample_block UNION SELECT session_id FROM damaged_block)
                WHERE session_id NOT IN (SELECT id FROM session) ORDER BY 1
                """),
        ];
        if (lost.Count == 0)
        {
            return;
        }

        long file = 1 + connection.ExecuteScalar<long>(
            "SELECT max(coalesce((SELECT max(file_id) FROM session), 0), coalesce((SELECT max(id) FROM file), 0), coalesce((SELECT seq FROM sqlite_sequence WHERE name = 'file'), 0))");
        AddFile(connection, file, now);
        for (int i = 0; i < lost.Count; i++)
        {
            connection.Execute(
                """
                INSERT INTO session (id, file_id, ordinal, pack_hint, started_utc, started_offset_min, time_quality, first_line, last_line)
                VALUES (@id, @file, @ordinal, 'recovered', @now, 0, 'file-date', 1, 1)
                """,
                new { id = lost[i], file, ordinal = i + 1, now = Instant.Utc(now) });
        }
    }

    private static void RecoverFiles(SqliteConnection connection, DateTimeOffset now)
    {
        foreach (long id in connection.Query<long>("SELECT DISTINCT file_id FROM session WHERE file_id NOT IN (SELECT id FROM file)"))
        {
            AddFile(connection, id, now);
        }
    }

    private static void AddFile(SqliteConnection connection, long id, DateTimeOffset now)
    {
        // No bytes hash to this, so it takes no other file's place.
        string sha256 = id.ToString("x64", CultureInfo.InvariantCulture);
        Files.Add(
            connection,
            new ImportedFile(
                sha256,
                "recovered",
                0,
                now,
                new LogReading(',', '.', "utf-8", LogLayout.Wide, "unknown", [], ["Stands in for a file whose account was lost."]),
                Ledger.Empty,
                []),
            id);
    }
}
