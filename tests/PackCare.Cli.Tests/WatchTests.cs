using System.Collections.Concurrent;
using System.Diagnostics;
using PackCare.Cli.Tests.Running;

namespace PackCare.Cli.Tests;

/// <summary>Watching a folder: finished files are taken in, unfinished ones wait, and a signal ends it cleanly.</summary>
public sealed class WatchTests : IDisposable
{
    private static readonly TimeSpan _patience = TimeSpan.FromSeconds(60);

    private readonly Bench _bench = new();
    private readonly BlockingCollection<string> _lines = [];

    public void Dispose()
    {
        _bench.Dispose();
        _lines.Dispose();
    }

    [Fact]
    public void A_file_is_imported_once_it_is_finished_and_not_while_it_grows()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "ends the program by a signal, which Windows has none of");
        _bench.Run("add", "Teal", "--cells", "3").Expect(0);
        string folder = Directory.CreateDirectory(Path.Combine(_bench.Folder, "logs")).FullName;
        _bench.Write("logs/teal_2026-10-01T1000.csv", PlainLog.Charge(3, seed: 1));
        using Process watch = PackCareProcess.Start(_bench.Folder, null, "watch", folder, "--every", "1", "--history", _bench.History);
        watch.OutputDataReceived += (_, received) => _lines.Add(received.Data ?? string.Empty);
        watch.ErrorDataReceived += (_, received) => _lines.Add(received.Data ?? string.Empty);
        watch.BeginOutputReadLine();
        watch.BeginErrorReadLine();
        WaitFor("teal_2026-10-01T1000.csv: imported, Teal");

        string[] rows = PlainLog.Charge(3, seed: 2).Split('\n');
        string growing = Path.Combine(folder, "teal_2026-10-02T1000.csv");
        using (StreamWriter writer = File.CreateText(growing))
        {
            for (int part = 0; part < 12; part++)
            {
                writer.Write(string.Join('\n', rows[(rows.Length * part / 12)..(rows.Length * (part + 1) / 12)]) + (part == 11 ? string.Empty : "\n"));
                writer.Flush();
                Thread.Sleep(250);
            }
        }

        WaitFor("teal_2026-10-02T1000.csv: imported, Teal");
        using (Process kill = Process.Start("kill", ["-TERM", watch.Id.ToString(System.Globalization.CultureInfo.InvariantCulture)]))
        {
            kill.WaitForExit();
        }

        Assert.True(watch.WaitForExit(_patience), "It did not stop.");
        Assert.Equal(0, watch.ExitCode);
        Assert.Equal([$"{(rows.Length - 2)}"], SqliteRows.Read(_bench.History, "select cast(sample_count as text) from session_summary order by session_id desc limit 1"));
    }

    private void WaitFor(string ending)
    {
        var seen = new List<string>();
        while (_lines.TryTake(out string? line, _patience))
        {
            seen.Add(line);
            if (line.EndsWith(ending, StringComparison.Ordinal))
            {
                return;
            }
        }

        Assert.Fail($"'{ending}' was not printed; this was:\n{string.Join('\n', seen)}");
    }
}
