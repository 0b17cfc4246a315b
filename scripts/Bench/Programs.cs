using System.Diagnostics;
using System.Runtime.InteropServices;

namespace PackCare.Bench;

/// <summary>The programs that are measured.</summary>
internal static class Programs
{
    private const string PandasScript =
        "import sys, sqlite3, pandas; connection = sqlite3.connect(sys.argv[2]); pandas.read_csv(sys.argv[1]).to_sql('log', connection, index=False); connection.commit()";

    /// <summary>Publishes our own program as a user would install it.</summary>
    /// <returns>The executable.</returns>
    public static string Publish(string folder)
    {
        string platform = RuntimeInformation.RuntimeIdentifier;
        using Process publish = Process.Start("dotnet", ["publish", "src/PackCare.Cli", "-c", "Release", "-r", platform, "-o", folder, "-v", "q", "--nologo"]);
        publish.WaitForExit();
        return publish.ExitCode == 0
            ? Path.Combine(folder, OperatingSystem.IsWindows() ? "packcare.exe" : "packcare")
            : throw new InvalidOperationException("The program could not be published; run this from the top of the repository.");
    }

    /// <summary>Importing a log, ours first, then general-purpose tools as far as they are installed.</summary>
    public static IReadOnlyList<Contestant> Importers(string packcare)
    {
        var all = new List<Contestant> { new("packcare import", packcare, (input, output) => ["import", input, "--history", output]) };
        if (Stopwatcher.Exists("sqlite3"))
        {
            all.Add(new Contestant("sqlite3 .import", "sqlite3", (input, output) => [output, ".mode csv", $".import {input} log"]));
        }

        string python = Environment.GetEnvironmentVariable("PACKCARE_BENCH_PYTHON") ?? "python3";
        if (HasPandas(python))
        {
            all.Add(new Contestant("pandas read_csv + to_sql", python, (input, output) => ["-c", PandasScript, input, output]));
        }

        if (Stopwatcher.Exists("duckdb"))
        {
            all.Add(new Contestant("duckdb create table as", "duckdb", (input, output) => [output, $"create table log as select * from read_csv('{input}')"]));
        }

        return all;
    }

    private static bool HasPandas(string python)
    {
        try
        {
            using Process probe = Process.Start(new ProcessStartInfo(python, ["-c", "import pandas"]) { RedirectStandardError = true })!;
            probe.WaitForExit();
            return probe.ExitCode == 0;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return false;
        }
    }
}
