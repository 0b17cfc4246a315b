using PackCare.Core.Packs;
using PackCare.Core.Samples;
using PackCare.Core.Sessions;

namespace PackCare.Store;

/// <summary>The record of packs, sessions and readings in one SQLite file. Not safe to share between threads.</summary>
public sealed class History : IDisposable
{
    /// <summary>The file.</summary>
    public string Path => throw new NotImplementedException();

    /// <summary>Opens a history, bringing an older one up to date.</summary>
    /// <param name="path">The file.</param>
    /// <param name="create">Whether to make it (and its folder) where there is none.</param>
    /// <exception cref="HistoryException">It cannot be used.</exception>
    public static History Open(string path, bool create) => throw new NotImplementedException();

    /// <summary>All packs in order of label.</summary>
    public IReadOnlyList<Pack> Packs() => throw new NotImplementedException();

    /// <summary>The pack of that label without regard to case, or null.</summary>
    public Pack? FindPack(string label) => throw new NotImplementedException();

    /// <summary>Enters a pack. Null, with nothing changed, where the label is taken.</summary>
    public Pack? AddPack(PackDetails details, DateTimeOffset at) => throw new NotImplementedException();

    /// <summary>The file with that SHA-256, or null.</summary>
    public StoredFile? FindFile(string sha256) => throw new NotImplementedException();

    /// <summary>Enters a file with all its sessions in one transaction.</summary>
    /// <returns>What is now stored; what was stored before where the same bytes came again, with nothing changed.</returns>
    public StoredFile AddFile(ImportedFile file, IReadOnlyList<NewSession> sessions) => throw new NotImplementedException();

    /// <summary>Sessions that belong to no pack yet, in order of time.</summary>
    public IReadOnlyList<UnassignedSession> Unassigned() => throw new NotImplementedException();

    /// <summary>The session of that number, or null.</summary>
    public SessionRecord? FindSession(long sessionId) => throw new NotImplementedException();

    /// <summary>Numbers of all sessions, in order.</summary>
    public IReadOnlyList<long> SessionIds() => throw new NotImplementedException();

    /// <summary>Says to which pack a session belongs; its summary is replaced at the same time, since the chemistry may differ.</summary>
    public void Assign(long sessionId, long packId, SessionSummary summary) => throw new NotImplementedException();

    /// <summary>Replaces a derived summary.</summary>
    public void ReplaceSummary(long sessionId, SessionSummary summary) => throw new NotImplementedException();

    /// <summary>All that is on record about a pack, each list in order of time.</summary>
    public PackHistory Load(Pack pack) => throw new NotImplementedException();

    /// <summary>The samples of a session.</summary>
    /// <exception cref="HistoryException">A block does not match its checksum.</exception>
    public SampleSeries LoadSamples(long sessionId) => throw new NotImplementedException();

    /// <summary>Enters a spot check.</summary>
    public SpotCheck AddSpotCheck(long packId, SpotCheck check) => throw new NotImplementedException();

    /// <summary>Enters a diary entry.</summary>
    public DiaryEntry AddEntry(long packId, DiaryEntry entry) => throw new NotImplementedException();

    /// <summary>Takes a pack out of use; it stays on record.</summary>
    public void Retire(long packId, Retirement retirement) => throw new NotImplementedException();

    /// <inheritdoc/>
    public void Dispose() => throw new NotImplementedException();
}
