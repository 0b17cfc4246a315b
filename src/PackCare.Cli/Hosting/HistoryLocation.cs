namespace PackCare.Cli.Hosting;

/// <summary>Finds the history file.</summary>
internal static class HistoryLocation
{
    /// <summary>The variable that names it.</summary>
    public const string Variable = "PACKCARE_HISTORY";

    /// <summary>The option, else the variable, else a file in the user's data folder; null where the platform names no such folder.</summary>
    public static string? Resolve(string? option, Host host)
    {
        if ((option ?? host.Variable(Variable)) is { Length: > 0 } named)
        {
            return Path.GetFullPath(named);
        }

        // XDG_DATA_HOME or ~/.local/share on Linux, Application Support on macOS, AppData\Local on Windows.
        string data = Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify);
        return data.Length == 0 ? null : Path.Combine(data, "packcare", "history.db");
    }
}
