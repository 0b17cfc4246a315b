using PackCare.Analysis.Limits;
using PackCare.Store;

namespace PackCare.Cli.Hosting;

/// <summary>Finds and reads the user's own limits.</summary>
internal static class LimitsFile
{
    /// <summary>Its name beside the history, where neither option nor variable names another.</summary>
    public const string Name = "limits.json";

    /// <summary>The variable that names it.</summary>
    public const string Variable = "PACKCARE_LIMITS";

    /// <summary>Reads the file that the option names, else the variable, else the one beside the history where there is one.</summary>
    /// <returns>The settings, or null with the reason said where the file is no good.</returns>
    public static LimitSettings? Read(string? option, History history, Host host)
    {
        string? named = option ?? host.Variable(Variable);
        string path = named ?? Path.Combine(Path.GetDirectoryName(history.Path)!, Name);
        if (named is null && !File.Exists(path))
        {
            return LimitSettings.None;
        }

        string text;
        try
        {
            text = File.ReadAllText(path);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            host.Fail(ExitCode.Usage, $"{path}: the limits cannot be read: {fault.Message}");
            return null;
        }

        (LimitSettings settings, IReadOnlyList<string> problems) = LimitSettings.Parse(text);
        foreach (string problem in problems)
        {
            host.Fail(ExitCode.Usage, $"{path}: {problem}; no limit of this file is used until it is put right.");
        }

        return problems.Count == 0 ? settings : null;
    }
}
