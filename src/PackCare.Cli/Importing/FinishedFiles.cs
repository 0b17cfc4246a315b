using PackCare.Core.Reading;

namespace PackCare.Cli.Importing;

/// <summary>
/// Tells which files of a folder are finished: those whose size and date have stayed the same for a while. Each state of a
/// file is handed out once; so is what is no file at all, for somebody to say so.
/// </summary>
/// <param name="folder">The folder, searched to the bottom.</param>
/// <param name="settle">How long a file has to have stood still.</param>
/// <param name="clock">Tells how long that is; setting the clock of the day changes nothing.</param>
internal sealed class FinishedFiles(string folder, TimeSpan settle, TimeProvider clock)
{
    private readonly Dictionary<string, Sight> _sights = [];

    /// <summary>Takes a file back that could not be dealt with now; it is handed out again.</summary>
    public void TakeBack(LogFile file) => _sights[file.Path] = _sights[file.Path] with { HandedOut = false };

    /// <summary>Looks once.</summary>
    /// <returns>The files that are finished now; and why the folder could not be searched, or null.</returns>
    public (IReadOnlyList<LogFile> Finished, InputProblem? Problem) Look()
    {
        long now = clock.GetTimestamp();
        var finished = new List<LogFile>();
        InputProblem? trouble = null;
        foreach ((LogFile file, InputProblem? problem) in LogFinder.Find([folder]))
        {
            // That there is no log yet is what one waits for.
            if (problem is not null)
            {
                trouble = problem.Code == LogFinder.EmptyFolder ? null : problem;
                continue;
            }

            (long, DateTime) state = StateOf(file);
            if (!_sights.TryGetValue(file.Path, out Sight sight) || sight.State != state)
            {
                _sights[file.Path] = new Sight(state, now, HandedOut: false);
            }
            else if (!sight.HandedOut && clock.GetElapsedTime(sight.Since, now) >= settle)
            {
                _sights[file.Path] = sight with { HandedOut = true };
                finished.Add(file);
            }
        }

        return (finished, trouble);
    }

    // What cannot be looked at (a link to nowhere, a file that vanished) has a state too: it may last.
    private static (long Length, DateTime Written) StateOf(LogFile file)
    {
        try
        {
            return file.Info() is { Exists: true } info ? (info.Length, info.LastWriteTimeUtc) : default;
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return default;
        }
    }

    private readonly record struct Sight((long Length, DateTime Written) State, long Since, bool HandedOut);
}
