using PackCare.Cli.Hosting;
using PackCare.Core.Reading;
using PackCare.Import;
using PackCare.Store;

namespace PackCare.Cli.Importing;

/// <summary>Takes finished exports of a folder into the history, look by look. What does not work now is said once and tried again.</summary>
/// <param name="host">Where to say it.</param>
/// <param name="folder">The folder.</param>
/// <param name="files">Which of its files are finished.</param>
/// <param name="open">Opens the history.</param>
/// <param name="read">How logs are read.</param>
/// <param name="report">Is told what became of each file.</param>
internal sealed class FolderWatch(Host host, string folder, FinishedFiles files, Func<History> open, ReadOptions read, Action<FileOutcome> report)
{
    private readonly Dictionary<string, string> _unreadable = [];
    private string? _folderTrouble;
    private string? _historyTrouble;
    private bool _caughtUp;

    /// <summary>Makes sure that there is a history. One that is in use may be free by the time that it is needed.</summary>
    /// <exception cref="HistoryException">It cannot be used.</exception>
    public void Begin()
    {
        try
        {
            open().Dispose();
        }
        catch (HistoryException fault) when (fault.Fault == HistoryFault.Locked)
        {
            SayOnce(ref _historyTrouble, Wait(fault.Message));
        }
    }

    /// <summary>Looks once, and imports what is finished. A file that was begun is brought to its end.</summary>
    public void Look(CancellationToken stop)
    {
        (IReadOnlyList<LogFile> finished, InputProblem? problem) = files.Look();
        SayOnce(ref _folderTrouble, problem is null ? null : Wait($"{folder}: {problem.Found}; {problem.Advice}."));
        int done = 0;
        try
        {
            if (finished.Count > 0)
            {
                Import(finished, ref done, stop);
                _caughtUp = true;
                SayOnce(ref _historyTrouble, null);
            }
        }
        catch (HistoryException fault)
        {
            // Another program holds it, or a disk is full: that passes.
            SayOnce(ref _historyTrouble, Wait(fault.Message));
            foreach (LogFile file in finished.Skip(done))
            {
                files.TakeBack(file);
            }
        }
    }

    // The history is open for each batch only, so that it can be backed up or moved in between.
    private void Import(IReadOnlyList<LogFile> finished, ref int done, CancellationToken stop)
    {
        using History history = open();
        var guides = new GuideShelf(null, Path.GetDirectoryName(history.Path), history.Guides());
        var importer = new Importer(history, new ImportSettings(null, read, guides), host.Clock);
        foreach (LogFile file in finished.TakeWhile(_ => !stop.IsCancellationRequested))
        {
            IReadOnlyList<FileOutcome> outcomes = importer.Import(file);
            done++;
            if (outcomes is [{ Status: ImportStatus.Refused, Problems: [{ Code: LogFinder.Unreadable } problem] }])
            {
                // It may be readable later without having changed.
                files.TakeBack(file);
                if (_unreadable.TryGetValue(file.Path, out string? said) && said == problem.Found)
                {
                    continue;
                }

                _unreadable[file.Path] = problem.Found;
            }

            // After a start again, the folder is full of what was imported before; nobody wants a line for each.
            foreach (FileOutcome outcome in outcomes.Where(one => _caughtUp || one.Status != ImportStatus.AlreadyImported))
            {
                report(outcome);
            }
        }
    }

    private static string Wait(string trouble) => trouble + " This goes on trying.";

    private void SayOnce(ref string? said, string? sentence)
    {
        if (sentence is not null && sentence != said)
        {
            host.Fail(ExitCode.History, sentence);
        }

        said = sentence;
    }
}
