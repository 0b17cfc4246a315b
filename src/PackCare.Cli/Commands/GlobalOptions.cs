using System.CommandLine;

namespace PackCare.Cli.Commands;

/// <summary>Options that every command takes.</summary>
internal static class GlobalOptions
{
    /// <summary>Which history.</summary>
    public static Option<string?> History { get; } = new("--history")
    {
        Description = "The history file [default: $PACKCARE_HISTORY, else packcare/history.db in your data folder]",
        HelpName = "FILE",
        Recursive = true,
    };

    /// <summary>The user's own limits.</summary>
    public static Option<string?> Limits { get; } = new("--limits")
    {
        Description = "Your own limits, see docs/settings.md [default: $PACKCARE_LIMITS, else limits.json beside the history]",
        HelpName = "FILE",
        Recursive = true,
    };

    /// <summary>A fixed clock.</summary>
    public static Option<string?> Now { get; } = new("--now")
    {
        Description = "Judge as of this moment instead of the clock's",
        HelpName = "TIME",
        Recursive = true,
    };
}
