using Microsoft.Data.Sqlite;
using PackCare.Core.Sessions;

namespace PackCare.Store.Tables;

/// <summary>
/// Reads sessions with their summaries by two statements in the same order, one for sessions and one for cells,
/// merged as they come, so that a whole fleet takes as few statements as one pack and no more memory than its result.
/// </summary>
internal static class SessionReader
{
    private const string ByTime = " ORDER BY s.started_utc, s.id";

    // As they lie in the file: for a whole fleet, any other order would read the file page by page in leaps.
    private const string ByNumber = " ORDER BY s.id";

    /// <summary>The sessions of a pack in order of time.</summary>
    public static IEnumerable<SessionRecord> OfPack(SqliteConnection connection, long packId) =>
        Read(connection, "s.pack_id = $id", ByTime, packId);

    /// <summary>The sessions of all packs in order of number.</summary>
    public static IEnumerable<SessionRecord> OfAllPacks(SqliteConnection connection) =>
        Read(connection, "s.pack_id IS NOT NULL", ByNumber, null);

    /// <summary>All sessions in order of number.</summary>
    public static IEnumerable<SessionRecord> Everything(SqliteConnection connection) =>
        Read(connection, "true", ByNumber, null);

    /// <summary>Unassigned sessions in order of time.</summary>
    public static IEnumerable<SessionRecord> OfNoPack(SqliteConnection connection) =>
        Read(connection, "s.pack_id IS NULL", ByTime, null);

    /// <summary>The sessions of a file in the file's order.</summary>
    public static IEnumerable<SessionRecord> OfFile(SqliteConnection connection, long fileId) =>
        Read(connection, "s.file_id = $id", ByNumber, fileId);

    public static SessionRecord? Find(SqliteConnection connection, long sessionId) =>
        Read(connection, "s.id = $id", ByNumber, sessionId).FirstOrDefault();

    private static IEnumerable<SessionRecord> Read(SqliteConnection connection, string where, string order, long? id)
    {
        using SqliteCommand sessions = Command(
            connection,
            $"SELECT s.id, s.pack_id, f.name, s.started_utc, s.started_offset_min, s.time_quality, {Columns("m", SummaryColumns.Session)} "
            + $"FROM session s CROSS JOIN file f ON f.id = s.file_id CROSS JOIN session_summary m ON m.session_id = s.id WHERE s.removed = 0 AND {where}{order}",
            id);
        using SqliteCommand cells = Command(
            connection,
            $"SELECT c.session_id, {Columns("c", SummaryColumns.Cell)} "
            + $"FROM session s CROSS JOIN cell_summary c ON c.session_id = s.id WHERE s.removed = 0 AND {where}{order}, c.cell",
            id);
        using SqliteDataReader row = sessions.ExecuteReader();
        using SqliteDataReader cell = cells.ExecuteReader();
        bool more = cell.Read();
        while (row.Read())
        {
            long sessionId = row.GetInt64(0);
            List<CellSummary> ofSession = [];
            while (more && cell.GetInt64(0) == sessionId)
            {
                ofSession.Add(SummaryColumns.ReadCell(cell, 1));
                more = cell.Read();
            }

            yield return new SessionRecord(
                sessionId,
                row.NullableLong(1),
                row.GetString(2),
                Instant.Parse(row.GetString(3), row.GetInt64(4)),
                Words.TimeQuality.Parse(row.GetString(5)),
                SummaryColumns.ReadSession(row, 6, ofSession));
        }
    }

    private static string Columns(string alias, IEnumerable<string> names) =>
        string.Join(", ", names.Skip(1).Select(name => $"{alias}.{name}"));

    private static SqliteCommand Command(SqliteConnection connection, string sql, long? id)
    {
        SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        if (id is not null)
        {
            command.Parameters.AddWithValue("$id", id.Value);
        }

        return command;
    }
}
