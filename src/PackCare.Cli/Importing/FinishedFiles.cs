using PackCare.Core.Reading;

namespace PackCare.Cli.Importing;

/// <summary>
/// Tells which files of a folder are finished: those whose size and date stayed the same from one look to the next.
/// Each state of a file is handed out once.
/// </summary>
/// <param name="folder">The folder, searched to the bottom.</param>
internal sealed class FinishedFiles(string folder)
{
    private readonly Dictionary<string, (long Length, DateTime Written)> _lastLook = [];
    private readonly Dictionary<string, (long Length, DateTime Written)> _handedOut = [];

    /// <summary>Takes files back that could not be dealt with now; they are handed out again.</summary>
    public void TakeBack(IEnumerable<LogFile> files)
    {
        foreach (LogFile file in files)
        {
            _handedOut.Remove(file.Path);
        }
    }

    /// <summary>Looks once.</summary>
    public IReadOnlyList<LogFile> Look()
    {
        var finished = new List<LogFile>();
        foreach ((LogFile file, InputProblem? problem) in LogFinder.Find([folder]))
        {
            if (problem is not null || !File.Exists(file.Path) || file.Info() is not { Exists: true, Length: > 0 } info)
            {
                continue;
            }

            (long, DateTime) state = (info.Length, info.LastWriteTimeUtc);
            bool still = _lastLook.TryGetValue(file.Path, out (long, DateTime) last) && last == state;
            _lastLook[file.Path] = state;
            if (still && !(_handedOut.TryGetValue(file.Path, out (long, DateTime) done) && done == state))
            {
                _handedOut[file.Path] = state;
                finished.Add(file);
            }
        }

        return finished;
    }
}
