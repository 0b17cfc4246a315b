using Dapper;
using Microsoft.Data.Sqlite;
using PackCare.Store.Tables;
using static SQLitePCL.raw;

namespace PackCare.Store.Health;

/// <summary>Looks for everything that could be wrong with a history, and changes nothing.</summary>
internal static class Examiner
{
    private const int MostPageComplaints = 100;

    public static HealthReport Examine(SqliteConnection connection)
    {
        List<Complaint> complaints = [.. Pages(connection)];
        if (complaints.Count > 0)
        {
            // Whatever else is read from a file in this state says little.
            return new HealthReport(0, 0, 0, complaints, [], []);
        }

        complaints.AddRange(References(connection));
        SortedSet<long> toSummarise = [];
        foreach (SessionBlocks session in SessionBlocks.All(connection))
        {
            complaints.AddRange(Blocks(session));
        }

        foreach (long id in WithoutSummary(connection))
        {
            complaints.Add(new Complaint(ComplaintKind.Summary, $"Session {id} has no summary."));
            toSummarise.Add(id);
        }

        foreach (long id in WithoutBlocks(connection))
        {
            complaints.Add(new Complaint(ComplaintKind.Time, $"Session {id} has no samples."));
        }

        complaints.AddRange(Contents(connection));
        return new HealthReport(
            Count(connection, "pack"),
            Count(connection, "session"),
            Count(connection, "sample_block"),
            complaints,
            [],
            [.. toSummarise]);
    }

    public static IEnumerable<Complaint> Pages(SqliteConnection connection)
    {
        List<string> found;
        try
        {
            found = [.. connection.Query<string>($"PRAGMA integrity_check({MostPageComplaints})").Where(line => line != "ok")];
        }
        catch (SqliteException error) when (error.SqliteErrorCode is SQLITE_CORRUPT or SQLITE_NOTADB)
        {
            found = ["the pages cannot be followed"];
        }

        return found.Select(line => new Complaint(ComplaintKind.Pages, $"SQLite reports: {line.ReplaceLineEndings(" ")}."));
    }

    private static List<Complaint> References(SqliteConnection connection) =>
        RowReading.All(
            connection,
            "SELECT \"table\", parent, count(*) FROM pragma_foreign_key_check GROUP BY 1, 2",
            row => new Complaint(ComplaintKind.Reference, $"{row.GetInt64(2)} rows of {row.GetString(0)} refer to a {row.GetString(1)} that is not there."));

    private static IEnumerable<Complaint> Blocks(SessionBlocks session)
    {
        if (!session.TimeIsWhole)
        {
            yield return new Complaint(ComplaintKind.Time, $"The times of session {session.SessionId} are not what was stored.");
            yield break;
        }

        foreach (var channel in session.Holes.GroupBy(hole => hole.Key))
        {
            yield return new Complaint(
                ComplaintKind.Block,
                $"{channel.Count()} of {session.Counts.Count} blocks of {channel.Key.Kind} {channel.Key.Index} in session {session.SessionId} are damaged or missing.");
        }
    }

    private static IEnumerable<long> WithoutSummary(SqliteConnection connection) => connection.Query<long>(
        "SELECT id FROM session s WHERE NOT EXISTS (SELECT 1 FROM session_summary WHERE session_id = s.id) ORDER BY id");

    private static IEnumerable<long> WithoutBlocks(SqliteConnection connection) => connection.Query<long>(
        "SELECT id FROM session s WHERE NOT EXISTS (SELECT 1 FROM sample_block WHERE session_id = s.id) ORDER BY id");

    // Reads everything by the same code as always; whatever that cannot make sense of is named by it.
    private static IEnumerable<Complaint> Contents(SqliteConnection connection)
    {
        (string What, Action Read)[] readings =
        [
            ("packs", () => Packs.All(connection)),
            ("sessions", () => Drain(SessionReader.Everything(connection))),
            ("spot checks", () => SpotChecks.Read(connection, null)),
            ("diary entries", () => DiaryEntries.Read(connection, null)),
            ("files", () => Drain(Files.LoadAll(connection))),
            ("changes", () => Drain(Changes.Undone(connection))),
        ];
        foreach ((string what, Action read) in readings)
        {
            string? found = null;
            try
            {
                read();
            }
            catch (InvalidDataException error)
            {
                found = error.Message;
            }

            if (found is not null)
            {
                yield return new Complaint(ComplaintKind.Content, $"Among the {what}: {found}.");
            }
        }
    }

    private static void Drain<T>(IEnumerable<T> rows)
    {
        foreach (T _ in rows)
        {
        }
    }

    private static long Count(SqliteConnection connection, string table) => connection.ExecuteScalar<long>($"SELECT count(*) FROM {table}");
}
