namespace PackCare.Cli.Demo;

/// <summary>Where the demo reads and writes.</summary>
internal static class DemoFolder
{
    /// <summary>The folder of logs, looked for upwards from where the user stands and from where the program lies; null where there is none.</summary>
    public static string? FindLogs() =>
        new[] { Environment.CurrentDirectory, AppContext.BaseDirectory }.Select(FindAbove).FirstOrDefault(found => found is not null);

    /// <summary>A folder of the user's own that may be thrown away.</summary>
    public static string Default => Path.Combine(Path.GetTempPath(), "packcare-demo-" + Environment.UserName);

    private static string? FindAbove(string start)
    {
        for (DirectoryInfo? folder = new(start); folder is not null; folder = folder.Parent)
        {
            string logs = Path.Combine(folder.FullName, "sample-logs");
            if (File.Exists(Path.Combine(logs, FleetFile.Name)))
            {
                return logs;
            }
        }

        return null;
    }
}
