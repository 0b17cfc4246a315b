using PackCare.Core.Reading;
using Spectre.Console;

namespace PackCare.Cli.Importing;

/// <summary>Works through files behind a progress bar, where somebody is watching.</summary>
internal static class ImportProgress
{
    /// <summary>Runs the work for each file in order.</summary>
    public static void Run(IAnsiConsole? screen, IReadOnlyList<(LogFile File, InputProblem? Problem)> files, Action<LogFile, InputProblem?> work)
    {
        if (screen is null || files.Count < 2)
        {
            foreach ((LogFile file, InputProblem? problem) in files)
            {
                work(file, problem);
            }

            return;
        }

        screen.Progress().AutoClear(true).Columns(new SpinnerColumn(), new TaskDescriptionColumn(), new ProgressBarColumn(), new PercentageColumn()).Start(progress =>
        {
            ProgressTask task = progress.AddTask("Importing", maxValue: files.Count);
            foreach ((LogFile file, InputProblem? problem) in files)
            {
                work(file, problem);
                task.Increment(1);
            }
        });
    }
}
