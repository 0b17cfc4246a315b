using System.Globalization;

namespace PackCare.Bench;

/// <summary>Start-up: our list of a small history against a Python one-liner that prints the same rows of the same file.</summary>
internal static class StartupBench
{
    // The fields are those that the program keeps of each pack; the one-liner looks nothing else up and formats nothing.
    private const string OneLiner =
        "import sys, sqlite3; [print(label, cells, *kept.split('\\t')[3:8]) for label, cells, kept in sqlite3.connect(sys.argv[1]).execute(\"select p.label, p.cells, d.content from pack p join digest d on d.pack_id = p.id where p.removed = 0 order by p.label_key\")]";

    /// <summary>Runs it and prints the table.</summary>
    public static int Run(int rounds)
    {
        DirectoryInfo folder = Directory.CreateTempSubdirectory("packcare-bench-");
        try
        {
            string packcare = Programs.Publish(Path.Combine(folder.FullName, "published"));
            string history = Path.Combine(folder.FullName, "demo", "history.db");
            Stopwatcher.Time(packcare, ["demo", Path.Combine(folder.FullName, "demo")]);
            string[] list = ["list", "--history", history];
            string[] read = ["-c", OneLiner, history];
            Stopwatcher.Time(packcare, list);
            int rows = Stopwatcher.Time("python3", read).Printed.TrimEnd().Split('\n').Length;
            var ours = new List<Timing>();
            var python = new List<Timing>();
            for (int round = 0; round < rounds; round++)
            {
                ours.Add(Stopwatcher.Time(packcare, list, watchMemory: false));
                python.Add(Stopwatcher.Time("python3", read, watchMemory: false));
            }

            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{rows} packs with {new FileInfo(history).Length / 1e6:F1} MB of history, {rounds} runs of each in turns"));
            Console.WriteLine();
            Console.WriteLine("| program | median ms | fastest ms |");
            Console.WriteLine("|---|---|---|");
            Console.WriteLine(Row("packcare list", ours));
            Console.WriteLine(Row("python3 -c, sqlite3 module", python));
            Console.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"| ratio | {Ratio(ours, python, all => Statistics.Median(all.Select(one => one.Seconds))):F2} | {Ratio(ours, python, all => all.Min(one => one.Seconds)):F2} |"));
            return 0;
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static double Ratio(List<Timing> ours, List<Timing> theirs, Func<List<Timing>, double> figure) => figure(ours) / figure(theirs);

    private static string Row(string name, List<Timing> all) => string.Create(
        CultureInfo.InvariantCulture,
        $"| {name} | {1000 * Statistics.Median(all.Select(one => one.Seconds)):F0} | {1000 * all.Min(one => one.Seconds):F0} |");
}
