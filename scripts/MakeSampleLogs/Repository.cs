namespace PackCare.SampleLogs;

/// <summary>Finds the folder of the solution.</summary>
internal static class Repository
{
    /// <summary>The nearest folder above the program, or else above the working folder, that holds the solution.</summary>
    public static string Root()
    {
        foreach (var start in (string[])[AppContext.BaseDirectory, Environment.CurrentDirectory])
        {
            for (var folder = new DirectoryInfo(start); folder is not null; folder = folder.Parent)
            {
                if (File.Exists(Path.Combine(folder.FullName, "PackCare.sln")))
                {
                    return folder.FullName;
                }
            }
        }

        throw new DirectoryNotFoundException("No folder with PackCare.sln above this program or the working folder; name the directory to write to.");
    }
}
