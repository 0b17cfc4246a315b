using System.Globalization;
using PackCare.Bench;
using PackCare.BigLog;

if (args.Length == 0 || args.Length > 4 || args[0] is not ("import" or "report"))
{
    return Usage();
}

int[] numbers = new int[args.Length - 1];
for (int at = 0; at < numbers.Length; at++)
{
    if (!int.TryParse(args[at + 1], NumberStyles.None, CultureInfo.InvariantCulture, out numbers[at]) || numbers[at] < 1)
    {
        return Usage();
    }
}

int Number(int at, int otherwise) => at < numbers.Length ? numbers[at] : otherwise;

DirectoryInfo folder = Directory.CreateTempSubdirectory("packcare-bench-");
try
{
    string packcare = Programs.Publish(Path.Combine(folder.FullName, "published"));
    string run = Directory.CreateDirectory(Path.Combine(folder.FullName, "run")).FullName;
    if (args[0] == "report")
    {
        var (packs, sessions) = (Number(0, 60), Number(1, 150));
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{packs} packs of {sessions} sessions, {Environment.ProcessorCount} processors"));
        Console.WriteLine();
        ReportRuns.Run(packcare, run, packs, sessions, Number(2, 5));
        return 0;
    }

    string log = Path.Combine(folder.FullName, "big.csv");
    var (rows, runs) = (Number(0, 1_000_000), Number(1, 5));
    await using (FileStream file = File.Create(log))
    {
        EnduranceLog.Write(file, rows);
    }

    Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{rows} rows, {new FileInfo(log).Length / 1e6:F1} MB, {runs} runs in turns, {Environment.ProcessorCount} processors"));
    Console.WriteLine();
    Contest.Run(Programs.Importers(packcare), log, run, runs);
    return 0;
}
finally
{
    folder.Delete(recursive: true);
}

static int Usage()
{
    Console.Error.WriteLine("Usage: bench import [ROWS [RUNS]]");
    Console.Error.WriteLine("Imports an invented log of that many rows (1000000) that many times (5), side by side with general-purpose tools.");
    Console.Error.WriteLine("       bench report [PACKS [SESSIONS [RUNS]]]");
    Console.Error.WriteLine("Draws the report of that many invented packs (60) with that many sessions each (150) that many times (5).");
    return 2;
}
