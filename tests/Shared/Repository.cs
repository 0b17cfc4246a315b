namespace PackCare;

/// <summary>Where the clone lies that these tests were built from.</summary>
internal static class Repository
{
    /// <summary>Its top folder.</summary>
    public static string Root { get; } = Find();

    /// <summary>The invented logs.</summary>
    public static string SampleLogs => Path.Combine(Root, "sample-logs");

    private static string Find()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "PackCare.sln")))
            {
                return folder.FullName;
            }
        }

        throw new InvalidOperationException("These tests run inside a clone of the repository.");
    }
}
