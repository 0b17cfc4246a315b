using System.Globalization;
using PackCare.Bench;
using PackCare.BigLog;

if (args is not ["import", .. var rest] || rest.Length > 2
    || !long.TryParse(rest.ElementAtOrDefault(0) ?? "1000000", NumberStyles.None, CultureInfo.InvariantCulture, out long rows)
    || !int.TryParse(rest.ElementAtOrDefault(1) ?? "5", NumberStyles.None, CultureInfo.InvariantCulture, out int runs))
{
    Console.Error.WriteLine("Usage: bench import [ROWS [RUNS]]");
    Console.Error.WriteLine("Imports an invented log of that many rows (1000000) that many times (5), side by side with general-purpose tools.");
    return 2;
}

DirectoryInfo folder = Directory.CreateTempSubdirectory("packcare-bench-");
try
{
    string log = Path.Combine(folder.FullName, "big.csv");
    await using (FileStream file = File.Create(log))
    {
        EnduranceLog.Write(file, rows);
    }

    string packcare = Programs.Publish(Path.Combine(folder.FullName, "published"));
    Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{rows} rows, {new FileInfo(log).Length / 1e6:F1} MB, {runs} runs in turns, {Environment.ProcessorCount} processors"));
    Console.WriteLine();
    Directory.CreateDirectory(Path.Combine(folder.FullName, "run"));
    Contest.Run(Programs.Importers(packcare), log, Path.Combine(folder.FullName, "run"), runs);
    return 0;
}
finally
{
    folder.Delete(recursive: true);
}
