using System.Runtime.ExceptionServices;
using System.Security.Cryptography;
using Microsoft.Win32.SafeHandles;
using PackCare.Analysis;
using PackCare.Core.Packs;
using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Core.Sessions;
using PackCare.Core.Units;
using PackCare.Import;
using PackCare.Import.Archives;
using PackCare.Store;

namespace PackCare.Cli.Importing;

/// <summary>Takes files into the history, one transaction a file: all of it or nothing.</summary>
/// <param name="history">The history; null on a dry run without one.</param>
/// <param name="settings">How to import.</param>
/// <param name="clock">The clock.</param>
internal sealed class Importer(History? history, ImportSettings settings, TimeProvider clock)
{
    private const int LargeBytes = 1 << 20;

    // Where the pack is named, the others are not asked for: on a large fleet that takes as long as reading the log.
    private readonly IReadOnlyList<Pack> _packs = settings.Pack is null && history is not null ? history.Packs() : [];

    /// <summary>Imports one file, or each file of one archive; what is wrong with it comes back as problems.</summary>
    public IReadOnlyList<FileOutcome> Import(LogFile file)
    {
        try
        {
            // A pipe or a device has no length, and merely opening one may wait for ever.
            if (file.Info().Length == 0)
            {
                return [FileOutcome.Refused(file.Shown, null, [LogFinder.Refusal("not-a-file", "it is empty, or no plain file", "export it again, or copy what it holds into a plain file first")])];
            }

            using FileStream stream = new(file.Path, FileMode.Open, FileAccess.Read, FileShare.Read, bufferSize: 1 << 16, FileOptions.SequentialScan);
            if (!stream.CanSeek)
            {
                return [FileOutcome.Refused(file.Shown, null, [LogFinder.Refusal("not-a-file", "this is not a plain file", "copy its contents into one first")])];
            }

            var source = new LogSource(Path.GetFileName(file.Path), new DateTimeOffset(File.GetLastWriteTimeUtc(file.Path), TimeSpan.Zero));
            string folder = Path.GetDirectoryName(file.Path)!;
            var unchanged = new Unchanged(stream);
            return LogArchive.IsArchive(stream)
                ? [.. LogArchive.Open(stream, source, new ArchiveLimits()).Select(inner => Import(file, folder, source, inner, unchanged))]
                : [Import(file.Shown, folder, source, stream, unchanged)];
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return [FileOutcome.Refused(file.Shown, null, [LogFinder.Refusal(LogFinder.Unreadable, "the file cannot be read: " + fault.Message, "check that it exists, that you may read it and that no other program holds it")])];
        }
    }

    private FileOutcome Import(LogFile archive, string folder, LogSource whole, ArchivedLog inner, Unchanged unchanged)
    {
        string shown = inner.Source == whole ? archive.Shown : $"{archive.Shown}/{inner.Source.Name}";
        using Stream? bytes = inner.Bytes;
        return bytes is null ? FileOutcome.Refused(shown, null, [inner.Problem!]) : Import(shown, folder, inner.Source, bytes, unchanged);
    }

    private FileOutcome Import(string shown, string folder, LogSource source, Stream stream, Unchanged unchanged)
    {
        stream.Position = 0;
        long length = stream.Length;
        using var known = new CancellationTokenSource();
        using var processors = new ProcessorUse();
        // A thread of its own, as it waits at times: one that the reading shares would be missed there. The handle is taken here: asking the stream for it moves the stream, which is about to be read.
        SafeFileHandle? handle = length >= LargeBytes ? (stream as FileStream)?.SafeFileHandle : null;
        Task<(string Sha256, StoredFile? Stored)> identity = handle is not null
            ? Task.Factory.StartNew(() => Look(Hash(handle, processors), known), CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default)
            : Task.FromResult(Look(Convert.ToHexStringLower(SHA256.HashData(stream)), known));
        if (known.IsCancellationRequested)
        {
            return Known(shown, identity.Result.Stored!);
        }

        ReadResult read;
        InputProblem? badGuide;
        try
        {
            // A large file is read while its bytes are hashed, and no further once they turn out to be stored.
            (read, badGuide) = settings.Guides.Read(stream, source, folder, settings.Read with { Processors = processors, Unwanted = known.Token });
        }
        catch (OperationCanceledException)
        {
            return Known(shown, identity.Result.Stored!);
        }
        finally
        {
            // Whatever became of the reading: the history is not for two at once.
            ((IAsyncResult)identity).AsyncWaitHandle.WaitOne();
        }

        (string sha256, StoredFile? stored) = identity.GetAwaiter().GetResult();
        if (known.IsCancellationRequested)
        {
            return Known(shown, stored!);
        }

        if (!unchanged.Still())
        {
            return FileOutcome.Refused(shown, null, [LogFinder.Refusal("changing", "the file changed while it was read", "import it again once it is finished being written")]);
        }

        if (read.Refused || badGuide is not null)
        {
            return FileOutcome.Refused(shown, sha256, badGuide is null ? read.Problems : [badGuide, .. read.Problems], read.Reading, read.Ledger);
        }

        if (settings.Pack is { } pack && read.Sessions.FirstOrDefault(session => session.Samples.CellCount != 0 && session.Samples.CellCount != pack.Details.Cells) is { } odd)
        {
            InputProblem problem = new(
                "wrong-cell-count",
                ProblemLevel.Refusal,
                odd.FirstLine,
                null,
                $"the log shows {odd.Samples.CellCount} cells and {pack.Label} has {pack.Details.Cells}",
                "name the pack that this log belongs to, or leave --pack out to store it unassigned");
            return FileOutcome.Refused(shown, sha256, [.. read.Problems, problem], read.Reading, read.Ledger);
        }

        LongLog.Sweep(read.Ledger.Samples);
        // Sessions are summarised each by itself, so all processors may share in a log of many, and the first are stored meanwhile.
        List<Task<SessionOutcome>> judged = [.. read.Sessions.Select(session => Task.Run(() => Judge(session, source.Name)))];
        List<SessionOutcome> sessions;
        if (settings.DryRun || history is null)
        {
            sessions = [.. judged.Select(session => session.GetAwaiter().GetResult())];
        }
        else
        {
            var imported = new ImportedFile(sha256, source.Name, length, clock.GetUtcNow(), read.Reading!, read.Ledger, read.Problems);
            StoredFile kept = Store(history, imported, judged);
            sessions = [.. judged.Zip(kept.SessionIds, (session, id) => session.Result with { Id = id })];
        }

        return new FileOutcome(shown, sha256, stored is null ? StatusOf(sessions) : ImportStatus.AlreadyImported, read.Reading, read.Ledger, sessions, read.Problems);
    }

    private (string Sha256, StoredFile? Stored) Look(string sha256, CancellationTokenSource known)
    {
        StoredFile? stored = history?.FindFile(sha256);
        if (stored is not null && !settings.DryRun)
        {
            known.Cancel();
        }

        return (sha256, stored);
    }

    private static string Hash(SafeFileHandle file, ProcessorUse processors)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        byte[] buffer = new byte[1 << 16];
        long at = 0;
        for (int read; (read = RandomAccess.Read(file, buffer, at)) > 0; at += read)
        {
            hash.AppendData(buffer, 0, read);
            processors.WaitForSpare();
        }

        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    private static StoredFile Store(History history, ImportedFile file, List<Task<SessionOutcome>> judged)
    {
        try
        {
            return history.AddFile(file, judged.Select(task => task.Result).Select(session => new NewSession(session.Pack?.Id, session.Log, session.Summary)));
        }
        catch (AggregateException fault)
        {
            // What went wrong is no fault of the history, whose own are told from it by their type.
            ExceptionDispatchInfo.Throw(fault.InnerException!);
            throw;
        }
    }

    private static ImportStatus StatusOf(IEnumerable<SessionOutcome> sessions) =>
        sessions.Any(session => session.Pack is null) ? ImportStatus.Unassigned : ImportStatus.Imported;

    private SessionOutcome Judge(SessionLog session, string fileName)
    {
        int cells = session.Samples.CellCount;
        PackMatch match = settings.Pack is { } pack
            ? new PackMatch.Assigned(pack, "you named it")
            : PackMatcher.Match(_packs, session.PackHint, fileName, cells, charge: null);
        Chemistry chemistry = match is PackMatch.Assigned assigned ? assigned.Pack.Details.Chemistry : Chemistry.LiPo;
        SessionSummary summary = SessionSummarizer.Summarize(session.Samples, chemistry);
        session.Samples.Compress();

        // The charge never assigns a session; it narrows the suggestions.
        return new SessionOutcome(
            null,
            match is PackMatch.Assigned ? match : PackMatcher.Match(_packs, session.PackHint, fileName, cells, ChargeMoved(summary)),
            session,
            summary);
    }

    /// <summary>The larger of charge in and charge out, which no pack can exceed; null without a current channel.</summary>
    public static AmpereHours? ChargeMoved(SessionSummary summary) =>
        summary is { ChargeInAh: { } chargeIn, ChargeOutAh: { } chargeOut } ? new AmpereHours(Math.Max(chargeIn, chargeOut)) : null;

    // The same bytes again; with --pack they may be meant to settle where waiting sessions belong.
    private FileOutcome Known(string shown, StoredFile stored)
    {
        if (settings.Pack is { } pack)
        {
            new WaitingSessions(history!).Assign([.. stored.SessionIds], pack);
        }

        return new FileOutcome(shown, stored.Sha256, ImportStatus.AlreadyImported, null, Ledger.Empty, [], []);
    }
}
