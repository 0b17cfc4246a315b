using System.Text.Json;
using Dapper;
using Microsoft.Data.Sqlite;
using PackCare.Store.Json;
using PackCare.Store.Opening;

namespace PackCare.Store.Tables;

/// <summary>The journal of changes, and how each is taken back and put back.</summary>
internal static class Changes
{
    private const string Select =
        """
        SELECT c.id AS Id, c.kind AS Kind, c.subject_id AS SubjectId, c.other AS Other, c.undone AS Undone,
               coalesce(CASE c.kind
                   WHEN 'pack' THEN (SELECT label FROM pack WHERE id = c.subject_id)
                   WHEN 'import' THEN (SELECT name FROM file WHERE id = c.subject_id)
                   WHEN 'assignment' THEN (SELECT f.name FROM session s JOIN file f ON f.id = s.file_id WHERE s.id = c.subject_id)
                   WHEN 'spot-check' THEN (SELECT p.label FROM spot_check s JOIN pack p ON p.id = s.pack_id WHERE s.id = c.subject_id)
                   WHEN 'entry' THEN (SELECT p.label FROM diary_entry d JOIN pack p ON p.id = d.pack_id WHERE d.id = c.subject_id)
                   WHEN 'retirement' THEN (SELECT p.label FROM retirement r JOIN pack p ON p.id = r.pack_id WHERE r.id = c.subject_id)
               END, '') AS Subject
        FROM change c
        """;

    public static void Record(SqliteConnection connection, ChangeKind kind, long subjectId, AssignmentState? other = null) =>
        connection.Execute(
            "INSERT INTO change (kind, subject_id, other) VALUES (@kind, @subjectId, @other)",
            new
            {
                kind = Words.ChangeKind.Of(kind),
                subjectId,
                other = other is null ? null : Text(other),
            });

    public static Change? Last(SqliteConnection connection) => LastRow(connection)?.ToChange();

    public static IReadOnlyList<Change> Undone(SqliteConnection connection) =>
        [.. connection.Query<Row>(Select + " WHERE c.undone = 1 ORDER BY c.id DESC").Select(row => row.ToChange())];

    public static Change? Undo(SqliteConnection connection)
    {
        if (LastRow(connection) is not { } row)
        {
            return null;
        }

        Turn(connection, row, removed: true);
        return row.ToChange() with { Undone = true };
    }

    /// <summary>Takes back an import whenever it was; also one that the journal does not know.</summary>
    public static Change? UndoImport(SqliteConnection connection, string sha256)
    {
        long? fileId = connection.QueryFirstOrDefault<long?>("SELECT id FROM file WHERE removed = 0 AND sha256 = @sha256", new { sha256 });
        if (fileId is null)
        {
            return null;
        }

        const string Known = Select + " WHERE c.kind = 'import' AND c.subject_id = @fileId AND c.undone = 0";
        if (connection.QueryFirstOrDefault<Row>(Known, new { fileId }) is not { } row)
        {
            Record(connection, ChangeKind.Import, fileId.Value);
            row = connection.QueryFirst<Row>(Known, new { fileId });
        }

        Turn(connection, row, removed: true);
        return row.ToChange() with { Undone = true };
    }

    /// <exception cref="HistoryException">There is no such change, or something else took its place meanwhile.</exception>
    public static Change Redo(SqliteConnection connection, long changeId)
    {
        Row row = connection.QueryFirstOrDefault<Row>(Select + " WHERE c.id = @changeId AND c.undone = 1", new { changeId })
            ?? throw Faults.Conflict($"There is no change number {changeId} that was taken back, and nothing was changed.");
        Turn(connection, row, removed: false);
        return row.ToChange() with { Undone = false };
    }

    private static Row? LastRow(SqliteConnection connection) =>
        connection.QueryFirstOrDefault<Row>(
            Select
            + """
             WHERE c.undone = 0
               AND NOT (c.kind = 'assignment' AND EXISTS (SELECT 1 FROM session s WHERE s.id = c.subject_id AND s.removed = 1))
             ORDER BY c.id DESC LIMIT 1
            """);

    private static void Turn(SqliteConnection connection, Row row, bool removed)
    {
        switch (Words.ChangeKind.Parse(row.Kind))
        {
            case ChangeKind.Pack:
                TurnPack(connection, row, removed);
                break;
            case ChangeKind.Import:
                TurnImport(connection, row, removed);
                break;
            case ChangeKind.Assignment:
                TurnAssignment(connection, row);
                break;
            case ChangeKind.SpotCheck:
                TurnRowOfPack(connection, "spot_check", row, removed);
                break;
            case ChangeKind.Entry:
                TurnRowOfPack(connection, "diary_entry", row, removed);
                break;
            case ChangeKind.Retirement:
                TurnRowOfPack(connection, "retirement", row, removed);
                break;
        }

        connection.Execute("UPDATE change SET undone = @removed WHERE id = @Id", new { row.Id, removed });
    }

    private static void TurnPack(SqliteConnection connection, Row row, bool removed)
    {
        if (!removed && Packs.Find(connection, row.Subject) is not null)
        {
            throw Faults.Conflict($"The label {row.Subject} is taken by another pack now, and nothing was changed.");
        }

        if (removed && Packs.IsReferredTo(connection, row.SubjectId))
        {
            throw Faults.Conflict($"The pack {row.Subject} has records of its own, and nothing was changed.");
        }

        connection.Execute("UPDATE pack SET removed = @removed WHERE id = @SubjectId", new { row.SubjectId, removed });
    }

    private static void TurnImport(SqliteConnection connection, Row row, bool removed)
    {
        if (!removed && connection.ExecuteScalar<long>(
            "SELECT count(*) FROM file WHERE removed = 0 AND sha256 = (SELECT sha256 FROM file WHERE id = @SubjectId)", row) > 0)
        {
            throw Faults.Conflict($"{row.Subject} was imported again meanwhile, and nothing was changed.");
        }

        foreach (long packId in connection.Query<long>("SELECT DISTINCT pack_id FROM session WHERE file_id = @SubjectId AND pack_id IS NOT NULL", row))
        {
            Packs.Touch(connection, packId);
        }

        connection.Execute("UPDATE file SET removed = @removed WHERE id = @SubjectId", new { row.SubjectId, removed });
        connection.Execute("UPDATE session SET removed = @removed WHERE file_id = @SubjectId", new { row.SubjectId, removed });
    }

    // Taking it back and putting it back are the same exchange of the present state for the other one.
    private static void TurnAssignment(SqliteConnection connection, Row row)
    {
        AssignmentState other = JsonSerializer.Deserialize(row.Other ?? "null", AssignmentJson.Default.AssignmentState)
            ?? throw new InvalidDataException($"change {row.Id} does not say what it replaced");
        AssignmentState present = Assign(connection, row.SubjectId, other);
        connection.Execute("UPDATE change SET other = @other WHERE id = @Id", new { row.Id, other = Text(present) });
    }

    /// <summary>Gives a session to a pack, or to none, and returns what was before.</summary>
    /// <exception cref="HistoryException">The session or the pack is not there.</exception>
    public static AssignmentState Assign(SqliteConnection connection, long sessionId, AssignmentState state)
    {
        Core.Sessions.SessionRecord before = SessionReader.Find(connection, sessionId)
            ?? throw Faults.Conflict($"There is no session number {sessionId} in the history (any more), and nothing was changed.");
        if (before.PackId is { } old)
        {
            Packs.Touch(connection, old);
        }

        connection.Execute("UPDATE session SET pack_id = @PackId WHERE id = @sessionId", new { sessionId, state.PackId });
        using var writer = new SummaryWriter(connection);
        writer.Replace(sessionId, state.Summary);
        if (state.PackId is { } now)
        {
            Packs.Touch(connection, now);
        }

        return new AssignmentState(before.PackId, before.Summary);
    }

    private static void TurnRowOfPack(SqliteConnection connection, string table, Row row, bool removed)
    {
        Packs.Touch(connection, connection.ExecuteScalar<long>($"SELECT pack_id FROM {table} WHERE id = @SubjectId", row));
        connection.Execute($"UPDATE {table} SET removed = @removed WHERE id = @SubjectId", new { row.SubjectId, removed });
    }

    private static string Text(AssignmentState state) => JsonSerializer.Serialize(state, AssignmentJson.Default.AssignmentState);

    // Properties, not a constructor: where there are no rows, SQLite cannot tell the type of an expression.
    internal sealed record Row
    {
        public long Id { get; init; }

        public string Kind { get; init; } = "";

        public long SubjectId { get; init; }

        public string? Other { get; init; }

        public long Undone { get; init; }

        public string Subject { get; init; } = "";

        public Change ToChange() => new(Id, Words.ChangeKind.Parse(Kind), Subject, Undone != 0);
    }
}
