namespace PackCare.Store.Tests;

/// <summary>Takes rights away and gives them back, on systems that have them in this form and for users whom they bind.</summary>
internal static class Rights
{
    public static bool Bind => !OperatingSystem.IsWindows() && !Environment.IsPrivilegedProcess;

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
}
