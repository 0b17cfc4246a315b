using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;

namespace PackCare.Cli.Tests.Running;

/// <summary>A running <c>packcare watch</c>, its lines of both streams as they come.</summary>
public sealed class Watching : IDisposable
{
    private static readonly TimeSpan _patience = TimeSpan.FromSeconds(60);

    private readonly BlockingCollection<string> _lines = [];
    private readonly List<string> _seen = [];

    /// <summary>Starts it.</summary>
    /// <param name="bench">Whose history it fills.</param>
    /// <param name="folder">The folder to watch.</param>
    /// <param name="settle">For how many seconds a file must have stood still.</param>
    public Watching(Bench bench, string folder, string settle = "1")
    {
        Process = PackCareProcess.Start(bench.Folder, bench.Environment, ["watch", folder, "--every", "0.2", "--settle", settle, "--history", bench.History]);
        Process.OutputDataReceived += Take;
        Process.ErrorDataReceived += Take;
        Process.BeginOutputReadLine();
        Process.BeginErrorReadLine();
    }

    /// <summary>The process.</summary>
    public Process Process { get; }

    /// <summary>All lines so far that were waited for or passed over.</summary>
    public IReadOnlyList<string> Seen
    {
        get
        {
            while (_lines.TryTake(out string? line))
            {
                _seen.Add(line);
            }

            return [.. _seen];
        }
    }

    /// <summary>Waits for a line with that in it.</summary>
    public string WaitFor(string text)
    {
        while (_lines.TryTake(out string? line, _patience))
        {
            _seen.Add(line);
            if (line.Contains(text, StringComparison.Ordinal))
            {
                return line;
            }
        }

        Assert.Fail($"'{text}' was not printed; this was:\n{string.Join('\n', _seen)}");
        return string.Empty;
    }

    /// <summary>Waits until it has one of the files open.</summary>
    public void WaitUntilItReads(params IReadOnlyList<string> paths)
    {
        string descriptors = $"/proc/{Process.Id.ToString(CultureInfo.InvariantCulture)}/fd";
        long start = Stopwatch.GetTimestamp();
        while (!Directory.GetFiles(descriptors).Any(descriptor => Target(descriptor) is { } open && paths.Contains(open)))
        {
            Assert.True(Stopwatch.GetElapsedTime(start) < _patience, $"It never opened {string.Join(", ", paths)}; it said:\n{string.Join('\n', Seen)}");
            Thread.Sleep(1);
        }
    }

    /// <summary>Sends a signal and waits for the end.</summary>
    /// <returns>The exit code.</returns>
    public int End(string signal)
    {
        using (Process kill = Process.Start("kill", ["-" + signal, Process.Id.ToString(CultureInfo.InvariantCulture)]))
        {
            kill.WaitForExit();
        }

        Assert.True(Process.WaitForExit(_patience), "It did not stop.");
        Process.WaitForExit();
        return Process.ExitCode;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (!Process.HasExited)
        {
            Process.Kill();
            Process.WaitForExit();
        }

        Process.Dispose();
        _lines.Dispose();
    }

    private static string? Target(string descriptor)
    {
        try
        {
            return new FileInfo(descriptor).LinkTarget;
        }
        catch (IOException)
        {
            return null;
        }
    }

    private void Take(object sender, DataReceivedEventArgs received)
    {
        if (received.Data is { } line)
        {
            _lines.Add(line);
        }
    }
}
