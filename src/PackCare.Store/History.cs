using Dapper;
using Microsoft.Data.Sqlite;
using PackCare.Core.Packs;
using PackCare.Core.Samples;
using PackCare.Core.Sessions;
using PackCare.Store.Json;
using PackCare.Store.Opening;
using PackCare.Store.Tables;

namespace PackCare.Store;

/// <summary>The record of packs, sessions and readings in one SQLite file. Not safe to share between threads.</summary>
/// <remarks>
/// Every change is one transaction that is on the disk when the call returns. Any number of programs may have the same
/// file open: readers see a consistent state and do not wait, writers wait for each other. Every member throws
/// <see cref="HistoryException"/> where the file fails.
/// </remarks>
public sealed class History : IDisposable
{
    private readonly Database _database;

    private History(Database database) => _database = database;

    /// <summary>The file.</summary>
    public string Path => _database.Path;

    /// <summary>Whether the file can only be read; every change throws then.</summary>
    public bool ReadOnly => _database.ReadOnly;

    /// <summary>Opens a history, bringing an older one up to date.</summary>
    /// <param name="path">The file.</param>
    /// <param name="create">Whether to make it (and its folder) where there is none.</param>
    /// <exception cref="HistoryException">It cannot be used.</exception>
    public static History Open(string path, bool create) => Open(path, create, Opener.UsualPatience);

    /// <summary>Opens a history, bringing an older one up to date.</summary>
    /// <param name="path">The file.</param>
    /// <param name="create">Whether to make it (and its folder) where there is none.</param>
    /// <param name="patience">How long a change waits for other programs before it is given up with <see cref="HistoryFault.Locked"/>.</param>
    /// <exception cref="HistoryException">It cannot be used.</exception>
    public static History Open(string path, bool create, TimeSpan patience) => new(Opener.Open(path, create, patience));

    /// <summary>All packs in order of label.</summary>
    public IReadOnlyList<Pack> Packs() => _database.Read(Tables.Packs.All);

    /// <summary>The pack of that label without regard to case, or null.</summary>
    public Pack? FindPack(string label) => _database.Read(connection => Tables.Packs.Find(connection, label));

    /// <summary>Enters a pack. Null, with nothing changed, where the label is taken.</summary>
    public Pack? AddPack(PackDetails details, DateTimeOffset at) =>
        _database.Write(connection => Tables.Packs.Add(connection, details, at));

    /// <summary>The file with that SHA-256, or null.</summary>
    public StoredFile? FindFile(string sha256) => _database.Read(connection => Tables.Files.Find(connection, sha256));

    /// <summary>All files in the order in which they were imported.</summary>
    public IReadOnlyList<StoredFile> Files() => _database.Read(Tables.Files.All);

    /// <summary>A file as it was imported: what it was understood to mean, the account of its lines, the notices; or null.</summary>
    public ImportedFile? LoadFile(string sha256) => _database.Read(connection => Tables.Files.Load(connection, sha256));

    /// <summary>Enters a file with all its sessions in one transaction.</summary>
    /// <param name="file">The file.</param>
    /// <param name="sessions">Its sessions in order; they are taken one by one, each stored before the next is asked for.</param>
    /// <returns>What is now stored; what was stored before where the same bytes came again, with nothing changed.</returns>
    public StoredFile AddFile(ImportedFile file, IEnumerable<NewSession> sessions) => _database.Write(connection =>
    {
        if (Tables.Files.Find(connection, file.Sha256) is { } before)
        {
            return before;
        }

        long fileId = Tables.Files.Add(connection, file);
        var ids = new List<long>();
        var touched = new HashSet<long>();
        using var writer = new SessionWriter(connection);
        foreach (NewSession session in sessions)
        {
            if (session.PackId is { } packId && touched.Add(packId))
            {
                Tables.Packs.Touch(connection, packId);
            }

            ids.Add(writer.Add(fileId, ids.Count + 1, session));
        }

        Changes.Record(connection, ChangeKind.Import, fileId);
        return new StoredFile(file.Sha256, file.Name, file.Imported, ids);
    });

    /// <summary>Sessions that belong to no pack yet, in order of time.</summary>
    public IReadOnlyList<UnassignedSession> Unassigned() => _database.Read<IReadOnlyList<UnassignedSession>>(connection =>
    {
        Dictionary<long, string?> hints = RowReading
            .All(connection, "SELECT id, pack_hint FROM session WHERE removed = 0 AND pack_id IS NULL", row => (Id: row.GetInt64(0), Hint: row.NullableText(1)))
            .ToDictionary(row => row.Id, row => row.Hint);
        return [.. SessionReader.OfNoPack(connection).Select(session => new UnassignedSession(session, hints[session.Id]))];
    });

    /// <summary>How many sessions belong to no pack yet.</summary>
    public int UnassignedCount() => _database.Read(connection =>
        RowReading.All(connection, "SELECT count(*) FROM session WHERE removed = 0 AND pack_id IS NULL", row => row.GetInt32(0))[0]);

    /// <summary>The session of that number, or null.</summary>
    public SessionRecord? FindSession(long sessionId) => _database.Read(connection => SessionReader.Find(connection, sessionId));

    /// <summary>The sessions of a file in the file's order; empty where there is no such file.</summary>
    public IReadOnlyList<SessionRecord> SessionsOf(string sha256) => _database.Read<IReadOnlyList<SessionRecord>>(connection =>
    {
        long? fileId = connection.QueryFirstOrDefault<long?>("SELECT id FROM file WHERE removed = 0 AND sha256 = @sha256", new { sha256 });
        return fileId is null ? [] : [.. SessionReader.OfFile(connection, fileId.Value)];
    });

    /// <summary>Numbers of all sessions, in order.</summary>
    public IReadOnlyList<long> SessionIds() =>
        _database.Read<IReadOnlyList<long>>(connection => [.. connection.Query<long>("SELECT id FROM session WHERE removed = 0 ORDER BY id")]);

    /// <summary>Says to which pack a session belongs; its summary is replaced at the same time, since the chemistry may differ.</summary>
    public void Assign(long sessionId, long packId, SessionSummary summary) => _database.Write(connection =>
    {
        AssignmentState before = Changes.Assign(connection, sessionId, new AssignmentState(packId, summary));
        Changes.Record(connection, ChangeKind.Assignment, sessionId, before);
    });

    /// <summary>Replaces a derived summary.</summary>
    public void ReplaceSummary(long sessionId, SessionSummary summary) => ReplaceSummaries([(sessionId, summary)]);

    /// <summary>Replaces many derived summaries in one transaction.</summary>
    public void ReplaceSummaries(IEnumerable<(long SessionId, SessionSummary Summary)> summaries) =>
        _database.Write(connection => Replace(connection, summaries));

    /// <summary>All that is on record about a pack, each list in order of time.</summary>
    public PackHistory Load(Pack pack) => _database.Read(connection => new PackHistory(
        pack,
        [.. SessionReader.OfPack(connection, pack.Id)],
        [.. SpotChecks.Read(connection, pack.Id)[pack.Id]],
        [.. DiaryEntries.Read(connection, pack.Id)[pack.Id]]));

    /// <summary>All that is on record about every pack, in order of label; as many statements as for one pack.</summary>
    public IReadOnlyList<PackHistory> LoadAll() => _database.Read<IReadOnlyList<PackHistory>>(connection =>
    {
        ILookup<long, SpotCheck> checks = SpotChecks.Read(connection, null);
        ILookup<long, DiaryEntry> entries = DiaryEntries.Read(connection, null);
        ILookup<long?, SessionRecord> sessions = SessionReader.OfAllPacks(connection).ToLookup(session => session.PackId);
        return
        [
            .. Tables.Packs.All(connection).Select(pack => new PackHistory(
                pack,
                [.. sessions[pack.Id].OrderBy(session => session.Started.UtcTicks).ThenBy(session => session.Id)],
                [.. checks[pack.Id]],
                [.. entries[pack.Id]])),
        ];
    });

    /// <summary>The samples of a session.</summary>
    /// <exception cref="HistoryException">A block does not match its checksum.</exception>
    public SampleSeries LoadSamples(long sessionId) => _database.Read(connection =>
    {
        DemandSession(connection, sessionId);
        return SampleBlocks.Read(connection, sessionId);
    });

    /// <summary>Enters a spot check.</summary>
    public SpotCheck AddSpotCheck(long packId, SpotCheck check) => _database.Write(connection =>
    {
        Tables.Packs.Demand(connection, packId);
        return SpotChecks.Add(connection, packId, check);
    });

    /// <summary>Enters a diary entry.</summary>
    public DiaryEntry AddEntry(long packId, DiaryEntry entry) => _database.Write(connection =>
    {
        Tables.Packs.Demand(connection, packId);
        return DiaryEntries.Add(connection, packId, entry);
    });

    /// <summary>Takes a pack out of use; it stays on record. Done again, the last statement counts.</summary>
    public void Retire(long packId, Retirement retirement) => _database.Write(connection =>
    {
        Tables.Packs.Demand(connection, packId);
        Tables.Packs.Retire(connection, packId, retirement);
    });

    /// <summary>The reading guides that are kept, in order of name.</summary>
    public IReadOnlyList<StoredGuide> Guides() => _database.Read(Tables.Guides.All);

    /// <summary>Keeps a reading guide; one of the same name is replaced.</summary>
    public void KeepGuide(StoredGuide guide) => _database.Write(connection => Tables.Guides.Keep(connection, guide));

    /// <summary>Removes a kept reading guide. What was read with it stays as it is.</summary>
    /// <returns>False where there is none of that name.</returns>
    public bool RemoveGuide(string name) => _database.Write(connection => Tables.Guides.Remove(connection, name));

    /// <summary>The latest moment on record that lies after a given one, of one pack or of them all; null where there is none.</summary>
    /// <param name="moment">The moment.</param>
    /// <param name="packId">The pack, or null for everything, the last import among it.</param>
    public DateTimeOffset? LatestAfter(DateTimeOffset moment, long? packId = null) =>
        _database.Read(connection => Moments.LatestAfter(connection, moment, packId));

    /// <summary>When each pack's first logged session began; packs without one are left out.</summary>
    public IReadOnlyDictionary<long, DateTimeOffset> FirstUses() => _database.Read(Moments.FirstUses);

    /// <summary>The change that <see cref="Undo"/> would take back, or null.</summary>
    public Change? LastChange() => _database.Read(Changes.Last);

    /// <summary>Takes back the last change that stands; null where there is none. What is taken back is kept until <see cref="Compact"/>.</summary>
    public Change? Undo() => _database.Write(Changes.Undo);

    /// <summary>Takes back the import of a file whenever it was, with all its sessions; null where there is no such file.</summary>
    public Change? UndoImport(string sha256) => _database.Write(connection => Changes.UndoImport(connection, sha256));

    /// <summary>Changes that were taken back and can be put back, latest first.</summary>
    public IReadOnlyList<Change> UndoneChanges() => _database.Read(Changes.Undone);

    /// <summary>Puts back a change that was taken back.</summary>
    /// <exception cref="HistoryException">There is no such change, or something else took its place meanwhile.</exception>
    public Change Redo(long changeId) => _database.Write(connection => Changes.Redo(connection, changeId));

    /// <summary>Gives up for good what was taken back, and returns the space to the disk. Needs room for a second copy while it runs.</summary>
    public void Compact()
    {
        _database.Write(Compaction.Discard);
        _database.Guard(() =>
        {
            Script.Run(_database.Connection, "VACUUM; PRAGMA wal_checkpoint(TRUNCATE)");
            return true;
        });
    }

    /// <summary>For every pack, a number that rises with every change to what is on record about it.</summary>
    public IReadOnlyDictionary<long, long> Revisions() => _database.Read(Tables.Packs.Revisions);

    /// <summary>
    /// Keeps results that were derived from packs, so that they need not be derived again while nothing changes.
    /// Each names the revision that was read before the pack was loaded.
    /// </summary>
    /// <param name="name">What kind of result, with the version of the method that made it.</param>
    /// <param name="digests">One a pack.</param>
    public void KeepDigests(string name, IEnumerable<(long PackId, long Revision, string Content)> digests) =>
        _database.Write(connection => Digests.Keep(connection, name, digests));

    /// <summary>Keeps results as <see cref="KeepDigests"/> does, where that is possible at once: they can always be derived again.</summary>
    /// <returns>False where the history cannot be written, or not now.</returns>
    public bool TryKeepDigests(string name, IEnumerable<(long PackId, long Revision, string Content)> digests)
    {
        if (ReadOnly)
        {
            return false;
        }

        try
        {
            _database.WriteAtOnce(connection => Digests.Keep(connection, name, digests));
            return true;
        }
        catch (HistoryException)
        {
            return false;
        }
    }

    /// <summary>All packs in order of label, each with its revision and, where it still rests on what is on record, the kept result of that name.</summary>
    public IReadOnlyList<PackWithDigest> PacksWithDigests(string name) =>
        _database.Read(connection => Tables.Packs.WithDigests(connection, name));

    /// <summary>Lets everything that is read inside the work come from the same state, whatever other programs write meanwhile. Nothing may be changed inside.</summary>
    public void ReadTogether(Action work) => _database.Snapshot(work);

    /// <inheritdoc/>
    public void Dispose() => _database.Dispose();

    /// <summary>Reads from one consistent state.</summary>
    internal T Read<T>(Func<SqliteConnection, T> work) => _database.Read(work);

    /// <summary>Copies the present state to a file.</summary>
    internal void CopyTo(string target, Action<SqliteConnection> verify) => Copies.Write(_database.Connection, target, verify);

    /// <summary>Runs a statement as this history would, for tests of what the structure itself refuses.</summary>
    internal void Execute(string sql) => _database.Write(connection => connection.Execute(sql));

    private static void Replace(SqliteConnection connection, IEnumerable<(long SessionId, SessionSummary Summary)> summaries)
    {
        using var writer = new SummaryWriter(connection);
        foreach ((long sessionId, SessionSummary summary) in summaries)
        {
            DemandSession(connection, sessionId);
            writer.Replace(sessionId, summary);
            connection.Execute(
                "UPDATE pack SET revision = revision + 1 WHERE id = (SELECT pack_id FROM session WHERE id = @sessionId)",
                new { sessionId });
        }
    }

    private static void DemandSession(SqliteConnection connection, long sessionId)
    {
        if (connection.ExecuteScalar<long>("SELECT count(*) FROM session WHERE removed = 0 AND id = @sessionId", new { sessionId }) == 0)
        {
            throw Faults.Conflict($"There is no session number {sessionId} in the history (any more), and nothing was changed.");
        }
    }
}
