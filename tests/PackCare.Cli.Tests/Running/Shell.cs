using System.Diagnostics;

namespace PackCare.Cli.Tests.Running;

/// <summary>Runs a script of the system's shell, in which <c>$packcare</c> is the executable.</summary>
public static class Shell
{
    private static readonly TimeSpan _limit = TimeSpan.FromSeconds(120);

    /// <summary>Runs it to its end.</summary>
    public static Outcome Run(string script, string? wrapper = null, TimeSpan? patience = null)
    {
        string[] words = wrapper is null ? ["sh"] : [.. wrapper.Split(' '), "sh"];
        var start = new ProcessStartInfo(words[0], [.. words[1..], "-c", script]) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment["packcare"] = PackCareProcess.Executable;
        using Process process = Process.Start(start)!;
        Task<string> output = process.StandardOutput.ReadToEndAsync();
        Task<string> error = process.StandardError.ReadToEndAsync();
        if (!process.WaitForExit(patience ?? _limit))
        {
            process.Kill(entireProcessTree: true);
            Assert.Fail($"This did not end within {(patience ?? _limit).TotalSeconds} s:\n{script}");
        }

        process.WaitForExit();
        return new Outcome(process.ExitCode, output.GetAwaiter().GetResult(), error.GetAwaiter().GetResult());
    }
}
