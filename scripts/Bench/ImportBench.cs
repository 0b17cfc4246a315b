using System.Globalization;
using PackCare.BigLog;

namespace PackCare.Bench;

/// <summary>Importing one large log.</summary>
internal static class ImportBench
{
    /// <summary>Runs it and prints the table.</summary>
    public static async Task<int> RunAsync(long rows, int runs)
    {
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
    }
}
