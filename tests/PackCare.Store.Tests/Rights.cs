using System.Runtime.InteropServices;

namespace PackCare.Store.Tests;

/// <summary>Takes rights away and gives them back, on systems that have them in this form.</summary>
internal static class Rights
{
    private const uint HeaderVersion = 0x20080522;
    private const uint OverrideRights = (1 << 1) | (1 << 2);

    /// <summary>
    /// Whether rights bind this user. The administrator of a Linux system gives up, on this thread, the two capabilities
    /// that look away from them (CAP_DAC_OVERRIDE and CAP_DAC_READ_SEARCH, capabilities(7)).
    /// </summary>
    public static bool Bind => !OperatingSystem.IsWindows() && (!Environment.IsPrivilegedProcess || (OperatingSystem.IsLinux() && GiveUpOverride()));

    public static void TakeWriting(string path)
    {
        if (!OperatingSystem.IsWindows())
        {
            File.SetUnixFileMode(path, UnixFileMode.UserRead | (Directory.Exists(path) ? UnixFileMode.UserExecute : 0));
        }
    }

    public static void GiveWriting(string path)
    {
        if (!OperatingSystem.IsWindows())
        {
            File.SetUnixFileMode(path, UnixFileMode.UserRead | UnixFileMode.UserWrite | (Directory.Exists(path) ? UnixFileMode.UserExecute : 0));
        }
    }

    private static bool GiveUpOverride()
    {
        uint[] header = [HeaderVersion, 0];
        uint[] sets = new uint[6];
        if (GetCapabilities(header, sets) != 0)
        {
            return false;
        }

        sets[0] &= ~OverrideRights;
        return SetCapabilities(header, sets) == 0;
    }

    [DllImport("libc", EntryPoint = "capget")]
    private static extern int GetCapabilities(uint[] header, [In, Out] uint[] sets);

    [DllImport("libc", EntryPoint = "capset")]
    private static extern int SetCapabilities(uint[] header, uint[] sets);
}
