using System.Diagnostics;

namespace PackCare.Cli.Tests.Running;

/// <summary>Runs the real executable: the one that was built with these tests, or the one that <c>PACKCARE_TEST_PROGRAM</c> names.</summary>
public static class PackCareProcess
{
    private static readonly TimeSpan _limit = TimeSpan.FromSeconds(120);

    /// <summary>The executable.</summary>
    public static string Executable { get; } = Environment.GetEnvironmentVariable("PACKCARE_TEST_PROGRAM") ?? Path.Combine(AppContext.BaseDirectory, OperatingSystem.IsWindows() ? "packcare.exe" : "packcare");

    /// <summary>Runs it to its end.</summary>
    public static Outcome Run(string workingFolder, IReadOnlyDictionary<string, string?>? environment, params string[] arguments) =>
        Run(Executable, workingFolder, environment, arguments);

    /// <summary>Runs a certain build of it to its end.</summary>
    public static Outcome Run(string executable, string workingFolder, IReadOnlyDictionary<string, string?>? environment, params string[] arguments)
    {
        using Process process = Start(executable, workingFolder, environment, arguments);
        Task<string> output = process.StandardOutput.ReadToEndAsync();
        Task<string> error = process.StandardError.ReadToEndAsync();
        if (!process.WaitForExit(_limit))
        {
            process.Kill(entireProcessTree: true);
            Assert.Fail($"packcare {string.Join(' ', arguments)} did not end within {_limit.TotalSeconds} s.");
        }

        process.WaitForExit();
        return new Outcome(process.ExitCode, output.GetAwaiter().GetResult().ReplaceLineEndings("\n"), error.GetAwaiter().GetResult().ReplaceLineEndings("\n"));
    }

    /// <summary>Starts it, output redirected.</summary>
    public static Process Start(string workingFolder, IReadOnlyDictionary<string, string?>? environment, params string[] arguments) =>
        Start(Executable, workingFolder, environment, arguments);

    private static Process Start(string executable, string workingFolder, IReadOnlyDictionary<string, string?>? environment, string[] arguments)
    {
        var start = new ProcessStartInfo(executable, arguments)
        {
            WorkingDirectory = workingFolder,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            StandardOutputEncoding = System.Text.Encoding.UTF8,
            StandardErrorEncoding = System.Text.Encoding.UTF8,
            UseShellExecute = false,
        };
        foreach (string inherited in new[] { "PACKCARE_HISTORY", "PACKCARE_TRACE", "PACKCARE_DATES", "COLUMNS" })
        {
            start.Environment.Remove(inherited);
        }

        foreach ((string name, string? value) in environment ?? new Dictionary<string, string?>())
        {
            start.Environment[name] = value;
        }

        return Process.Start(start) ?? throw new InvalidOperationException("The executable did not start.");
    }
}
