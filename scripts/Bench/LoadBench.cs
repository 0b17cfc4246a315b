using System.Globalization;

namespace PackCare.Bench;

/// <summary>What daily commands take as a history grows.</summary>
internal static class LoadBench
{
    private const int Rounds = 7;
    private const int ImportRounds = 15;

    /// <summary>Grows a fleet in steps, measures at each, prints the table and draws the chart.</summary>
    public static int Run(string folder, int packs, int sessions)
    {
        Directory.CreateDirectory(folder);
        string packcare = Programs.Publish(Path.Combine(folder, "published"));
        string large = Path.Combine(folder, "fleet.db");
        string small = Path.Combine(folder, "small.db");
        string log = Path.Combine(folder, "charge.csv");
        foreach (string old in Directory.GetFiles(folder, "*.db*"))
        {
            File.Delete(old);
        }

        var fleet = new Fleet(sessions);
        string now = fleet.Now.ToString("yyyy-MM-dd'T'HH:mm'Z'", CultureInfo.InvariantCulture);
        Stopwatcher.Time(packcare, ["add", Fleet.Label(1), "--cells", "4", "--capacity", "5000", "--history", small]);
        Console.WriteLine($"{Rounds} runs of each command, {ImportRounds} imports in turns, medians; {Environment.ProcessorCount} processors. Times in ms of the whole process, memory in MB.");
        Console.WriteLine();
        Console.WriteLine("| packs | sessions | file MB | due | list | show | first due | its MB | largest MB of the others | import | into an empty history | ratio |");
        Console.WriteLine("|---|---|---|---|---|---|---|---|---|---|---|---|");
        var points = new List<LoadPoint>();
        int have = 0;
        int round = 0;
        foreach (int size in new[] { packs / 200, packs / 20, packs / 8, packs / 4, packs / 2, packs }.Where(size => size > 0))
        {
            fleet.Add(large, have + 1, size);
            have = size;
            string[] common = ["--history", large, "--now", now];
            Timing first = Stopwatcher.Time(packcare, ["due", .. common]);
            List<Timing> due = Repeat(packcare, ["due", .. common]);
            List<Timing> list = Repeat(packcare, ["list", .. common]);
            List<Timing> show = Repeat(packcare, ["show", Fleet.Label(size), .. common]);
            var into = new List<double>();
            var empty = new List<double>();
            for (int i = 0; i < ImportRounds; i++)
            {
                File.WriteAllText(log, Fleet.WriteLog(++round));
                into.Add(Stopwatcher.Time(packcare, ["import", log, "--pack", Fleet.Label(1), "--started", "2025-01-02T10:00Z", "--history", large], watchMemory: false).Seconds);
                empty.Add(Stopwatcher.Time(packcare, ["import", log, "--pack", Fleet.Label(1), "--started", "2025-01-02T10:00Z", "--history", small], watchMemory: false).Seconds);
            }

            var point = new LoadPoint(size * sessions, Milliseconds(due), Milliseconds(list), Milliseconds(show), 1000 * Statistics.Median(into));
            points.Add(point);
            double peak = due.Concat(list).Concat(show).Max(one => one.PeakMegabytes ?? 0);
            Console.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"| {size} | {point.Sessions} | {new FileInfo(large).Length / 1e6:F0} | {point.Due:F0} | {point.List:F0} | {point.Show:F0} | {1000 * first.Seconds:F0} | {first.PeakMegabytes:F0} | {peak:F0} | {point.Import:F0} | {1000 * Statistics.Median(empty):F0} | {Statistics.Median(into) / Statistics.Median(empty):F2} |"));
        }

        File.WriteAllText(Path.Combine("docs", "load.svg"), LoadChart.Draw(points));
        return 0;
    }

    private static List<Timing> Repeat(string command, string[] arguments) =>
        [.. Enumerable.Range(0, Rounds).Select(_ => Stopwatcher.Time(command, arguments))];

    private static double Milliseconds(List<Timing> all) => 1000 * Statistics.Median(all.Select(one => one.Seconds));
}
