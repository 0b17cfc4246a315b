using System.Diagnostics;
using System.Globalization;

namespace PackCare.Bench;

/// <summary>Runs a program and takes its time and memory.</summary>
internal static class Stopwatcher
{
    /// <summary>Runs it once to a fresh output file.</summary>
    public static Measurement Run(Contestant contestant, string input, string output, bool watchMemory)
    {
        foreach (string old in OutputFiles(output))
        {
            File.Delete(old);
        }

        return Run(contestant.Command, contestant.Arguments(input, output), watchMemory) with { OutputBytes = OutputFiles(output).Sum(file => new FileInfo(file).Length) };
    }

    /// <summary>Runs a program once to its end; its output is not looked at.</summary>
    /// <exception cref="InvalidOperationException">It did not start, or ended with an exit code other than 0.</exception>
    public static Measurement Run(string command, IReadOnlyList<string> arguments, bool watchMemory = true)
    {
        Timing timing = Time(command, arguments, watchMemory);
        return new Measurement(timing.Seconds, timing.PeakMegabytes, 0);
    }

    /// <summary>Runs a program once to its end.</summary>
    /// <param name="command">The executable.</param>
    /// <param name="arguments">Its arguments.</param>
    /// <param name="watchMemory">Whether to look at its memory every two milliseconds, which takes some of a small machine's time.</param>
    /// <exception cref="InvalidOperationException">It did not start, or ended with an exit code other than 0.</exception>
    public static Timing Time(string command, IReadOnlyList<string> arguments, bool watchMemory = true)
    {
        var start = new ProcessStartInfo(command, arguments) { RedirectStandardOutput = true, RedirectStandardError = true };
        long began = Stopwatch.GetTimestamp();
        using Process process = Process.Start(start) ?? throw new InvalidOperationException($"{command} did not start.");
        Task<string> printed = process.StandardOutput.ReadToEndAsync();
        Task<string> complained = process.StandardError.ReadToEndAsync();
        double? peak = null;
        while (watchMemory && !process.WaitForExit(TimeSpan.FromMilliseconds(2)))
        {
            peak = PeakOf(process.Id) ?? peak;
        }

        process.WaitForExit();
        double seconds = Stopwatch.GetElapsedTime(began).TotalSeconds;
        return process.ExitCode == 0
            ? new Timing(seconds, peak, printed.GetAwaiter().GetResult())
            : throw new InvalidOperationException($"{command} {string.Join(' ', arguments)} ended with {process.ExitCode}: {printed.GetAwaiter().GetResult()} {complained.GetAwaiter().GetResult()}");
    }

    /// <summary>Whether a program is on the path.</summary>
    public static bool Exists(string command) =>
        (Environment.GetEnvironmentVariable("PATH") ?? string.Empty).Split(Path.PathSeparator)
            .Any(folder => File.Exists(Path.Combine(folder, command)) || File.Exists(Path.Combine(folder, command + ".exe")));

    private static string[] OutputFiles(string output) =>
        Directory.GetFiles(Path.GetDirectoryName(output)!, Path.GetFileName(output) + "*");

    private static double? PeakOf(int process)
    {
        try
        {
            string? line = File.ReadLines($"/proc/{process.ToString(CultureInfo.InvariantCulture)}/status").FirstOrDefault(one => one.StartsWith("VmHWM:", StringComparison.Ordinal));
            return line is null ? null : double.Parse(line.Split(' ', StringSplitOptions.RemoveEmptyEntries)[^2], CultureInfo.InvariantCulture) * 1024 / 1e6;
        }
        catch (IOException)
        {
            return null;
        }
        catch (UnauthorizedAccessException)
        {
            return null;
        }
    }
}
