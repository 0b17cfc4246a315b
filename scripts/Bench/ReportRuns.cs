using System.Globalization;

namespace PackCare.Bench;

/// <summary>Measures the report of a fleet, each run a process of its own, as a user would start it.</summary>
internal static class ReportRuns
{
    /// <summary>Makes the history and runs the report.</summary>
    public static void Run(string packcare, string folder, int packs, int sessions, int runs)
    {
        string logs = Directory.CreateDirectory(Path.Combine(folder, "logs")).FullName;
        string history = Path.Combine(folder, "fleet.db");
        FleetLogs.Write(logs, packs, sessions);
        for (int pack = 1; pack <= packs; pack++)
        {
            Stopwatcher.Run(packcare, [
                "add", FleetLogs.Label(pack), "--history", history, "--cells", Whole(FleetLogs.Cells(pack)),
                "--capacity", Whole((int)Math.Round(FleetLogs.RatedAh(pack) * 1000)), "--bought", "2025-01-02"]);
        }

        Stopwatcher.Run(packcare, ["import", logs, "--history", history, "--zone", "UTC"]);
        string now = FleetLogs.End.ToString("yyyy-MM-dd'T'HH:mm'Z'", CultureInfo.InvariantCulture);
        var measured = new List<Measurement>();
        for (int run = 0; run < runs; run++)
        {
            string pages = Path.Combine(folder, "report-" + Whole(run));
            Measurement one = Stopwatcher.Run(packcare, ["report", "--history", history, "--now", now, "--out", pages]);
            measured.Add(one with { OutputBytes = Directory.GetFiles(pages).Sum(file => new FileInfo(file).Length) });
        }

        Console.WriteLine("| run | s | peak MB | written MB |");
        Console.WriteLine("|---|---|---|---|");
        for (int run = 0; run < runs; run++)
        {
            Measurement one = measured[run];
            string peak = one.PeakMegabytes is { } most ? most.ToString("F0", CultureInfo.InvariantCulture) : "-";
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {run + 1} | {one.Seconds:F2} | {peak} | {one.OutputBytes / 1e6:F1} |"));
        }
    }

    private static string Whole(int number) => number.ToString(CultureInfo.InvariantCulture);
}
