using System.Globalization;

namespace PackCare.Bench;

/// <summary>
/// Runs programs on the same input in turns, so that a busy minute hits them all alike, and compares medians. Memory is looked at in runs of
/// their own: looking takes some of a small machine's time, and most of it from a program that uses all processors.
/// </summary>
internal static class Contest
{
    private const int MemoryRuns = 2;

    /// <summary>Runs the contest and prints a Markdown table; the first contestant is the one the others are held against.</summary>
    public static void Run(IReadOnlyList<Contestant> contestants, string input, string folder, int runs)
    {
        var measured = contestants.ToDictionary(one => one, _ => new List<Measurement>());
        var peaks = contestants.ToDictionary(one => one, _ => new List<Measurement>());
        for (int run = 0; run < runs + MemoryRuns; run++)
        {
            bool timed = run >= MemoryRuns;
            foreach (Contestant contestant in contestants)
            {
                (timed ? measured : peaks)[contestant].Add(Stopwatcher.Run(contestant, input, Path.Combine(folder, "out"), watchMemory: !timed));
            }
        }

        double ours = Statistics.Median(measured[contestants[0]].Select(one => one.Seconds));
        long bytes = new FileInfo(input).Length;
        Console.WriteLine("| program | median s | fastest s | times ours | peak MB | output MB | output / input |");
        Console.WriteLine("|---|---|---|---|---|---|---|");
        foreach (Contestant contestant in contestants)
        {
            List<Measurement> all = measured[contestant];
            double median = Statistics.Median(all.Select(one => one.Seconds));
            string peak = peaks[contestant].Max(one => one.PeakMegabytes) is { } most ? most.ToString("F0", CultureInfo.InvariantCulture) : "-";
            Console.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"| {contestant.Name} | {median:F3} | {all.Min(one => one.Seconds):F3} | {median / ours:F1} | {peak} | {all[0].OutputBytes / 1e6:F1} | {(double)all[0].OutputBytes / bytes:F3} |"));
        }
    }
}
