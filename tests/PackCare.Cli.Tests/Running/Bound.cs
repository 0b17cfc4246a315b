namespace PackCare.Cli.Tests.Running;

/// <summary>Runs the executable so that rights on files bind it, also where the administrator runs the tests.</summary>
public static class Bound
{
    /// <summary>Why it cannot be done here, or null.</summary>
    public static string? Unable =>
        OperatingSystem.IsWindows() ? "Windows has no such rights"
        : Environment.IsPrivilegedProcess && Shell.Run("command -v setpriv").ExitCode != 0 ? "setpriv is not installed, and the administrator's rights know no such folder"
        : null;

    /// <summary>What goes before a command.</summary>
    public static string Prefix => Environment.IsPrivilegedProcess
        ? "setpriv --bounding-set=-dac_override,-dac_read_search --inh-caps=-dac_override,-dac_read_search "
        : string.Empty;
}
