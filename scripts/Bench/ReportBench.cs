using System.Globalization;

namespace PackCare.Bench;

/// <summary>Drawing the report of a fleet.</summary>
internal static class ReportBench
{
    /// <summary>Runs it and prints the table.</summary>
    public static int Run(int packs, int sessions, int runs)
    {
        DirectoryInfo folder = Directory.CreateTempSubdirectory("packcare-bench-");
        try
        {
            string packcare = Programs.Publish(Path.Combine(folder.FullName, "published"));
            string run = Directory.CreateDirectory(Path.Combine(folder.FullName, "run")).FullName;
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{packs} packs of {sessions} sessions, {Environment.ProcessorCount} processors"));
            Console.WriteLine();
            ReportRuns.Run(packcare, run, packs, sessions, runs);
            return 0;
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}
