using System.Diagnostics;
using PackCare.Cli.Tests.Running;

namespace PackCare.Cli.Tests;

/// <summary>An import that is killed leaves whole files only, and the next run completes it.</summary>
public sealed class KillTests : IDisposable
{
    private const int Kills = 20;
    private const int Files = 24;
    private const int Seed = 20261101;

    private readonly Bench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Fact]
    public void An_import_killed_at_twenty_random_moments_holds_whole_files_and_is_completed_by_running_it_again()
    {
        string logs = WriteLogs();
        _bench.Run("add", "Heron 1", "--cells", "4").Expect(0);
        string empty = Path.Combine(_bench.Folder, "empty.db");
        File.Copy(_bench.History, empty);
        string[] expected = Undisturbed(logs, out TimeSpan duration);
        var random = new Random(Seed);
        int killedMidway = 0;
        for (int kill = 0; kill < Kills; kill++)
        {
            foreach (string old in Directory.GetFiles(_bench.Folder, "history.db*"))
            {
                File.Delete(old);
            }

            File.Copy(empty, _bench.History);
            using (Process process = PackCareProcess.Start(_bench.Folder, null, "import", logs, "--history", _bench.History))
            {
                process.BeginOutputReadLine();
                process.BeginErrorReadLine();
                Thread.Sleep(duration * random.NextDouble());
                process.Kill();
                process.WaitForExit();
            }

            string[] left = Sessions();
            Assert.Subset(expected.ToHashSet(), left.ToHashSet());
            killedMidway += left.Length is > 0 and < Files ? 1 : 0;

            _bench.Run("import", logs).Expect(0);
            Assert.Equal(expected, Sessions());
        }

        Assert.Equal(Files, _bench.Run("show", "Heron 1", "--json").Expect(0).Json().GetProperty("usage").GetProperty("sessions").GetInt32());

        // Otherwise the moments were badly chosen and the test shows nothing.
        Assert.True(killedMidway >= 3, $"Only {killedMidway} of {Kills} kills fell between the first and the last file.");
    }

    private string WriteLogs()
    {
        for (int file = 0; file < Files; file++)
        {
            _bench.Write($"logs/heron-1_2026-09-{file + 1:D2}T1000.csv", PlainLog.Charge(4, seed: file, minutes: 240 + file));
        }

        return Path.Combine(_bench.Folder, "logs");
    }

    private string[] Undisturbed(string logs, out TimeSpan duration)
    {
        long start = Stopwatch.GetTimestamp();
        _bench.Run("import", logs).Expect(0);
        duration = Stopwatch.GetElapsedTime(start);
        string[] sessions = Sessions();
        Assert.Equal(Files, sessions.Length);
        return sessions;
    }

    // What a reader sees: each session's file, and figures that rest on all of its samples.
    private string[] Sessions()
    {
        string[] sessions = [.. SqliteRows.Read(_bench.History, """
            select file.name || ' ' || s.started_utc || ' ' || m.sample_count || ' ' || coalesce(m.charge_in_ah, 0) || ' ' || count(b.encoded) || ' ' || sum(length(b.encoded))
            from session s join file on file.id = s.file_id join session_summary m on m.session_id = s.id join sample_block b on b.session_id = s.id
            group by s.id order by 1
            """)];
        Assert.Equal(["ok"], SqliteRows.Read(_bench.History, "pragma integrity_check"));
        Assert.Empty(SqliteRows.Read(_bench.History, "pragma foreign_key_check"));
        return sessions;
    }
}
