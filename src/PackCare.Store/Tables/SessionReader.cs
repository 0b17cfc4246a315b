using Microsoft.Data.Sqlite;
using PackCare.Core.Sessions;

namespace PackCare.Store.Tables;

/// <summary>
/// Reads sessions with their summaries by two statements in the same order, one for sessions and one for cells,
/// merged as they come, so that a whole fleet takes as few statements as one pack and no more memory than its result.
/// </summary>
internal static class SessionReader
{
    private const string Order = " ORDER BY s.pack_id, s.started_utc, s.id";

    public static IEnumerable<SessionRecord> OfPack(SqliteConnection connection, long packId) =>
        Read(connection, "s.pack_id = $id", packId);

    public static IEnumerable<SessionRecord> OfAllPacks(SqliteConnection connection) =>
        Read(connection, "s.pack_id IS NOT NULL", null);

    public static IEnumerable<SessionRecord> OfNoPack(SqliteConnection connection) =>
        Read(connection, "s.pack_id IS NULL", null);

    public static IEnumerable<SessionRecord> OfFile(SqliteConnection connection, long fileId) =>
        Read(connection, "s.file_id = $id", fileId);

    public static SessionRecord? Find(SqliteConnection connection, long sessionId) =>
        Read(connection, "s.id = $id", sessionId).FirstOrDefault();

    private static IEnumerable<SessionRecord> Read(SqliteConnection connection, string where, long? id)
    {
        using SqliteCommand sessions = Command(
            connection,
            $"SELECT s.id, s.pack_id, f.name, s.started_utc, s.started_offset_min, s.time_quality, {Columns("m", SummaryColumns.Session)} "
            + $"FROM session s CROSS JOIN file f ON f.id = s.file_id CROSS JOIN session_summary m ON m.session_id = s.id WHERE {where}{Order}",
            id);
        using SqliteCommand cells = Command(
            connection,
            $"SELECT c.session_id, {Columns("c", SummaryColumns.Cell)} "
            + $"FROM session s CROSS JOIN cell_summary c ON c.session_id = s.id WHERE {where}{Order}, c.cell",
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
