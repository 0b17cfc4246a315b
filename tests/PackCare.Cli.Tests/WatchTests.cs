using System.Globalization;
using Microsoft.Data.Sqlite;
using PackCare.Cli.Tests.Running;
using PackCare.Store;

namespace PackCare.Cli.Tests;

/// <summary>
/// Watching a folder: finished files are taken in, each once and with one line; unfinished ones wait; a signal, a kill,
/// a locked history and odd files lose nothing.
/// </summary>
public sealed class WatchTests : IDisposable
{
    private readonly Bench _bench = new();
    private readonly string _logs;

    public WatchTests()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "ends the program by a signal, which Windows has none of");
        _bench.Run("add", "Teal", "--cells", "3").Expect(0);
        _logs = Directory.CreateDirectory(Path.Combine(_bench.Folder, "logs")).FullName;
    }

    public void Dispose() => _bench.Dispose();

    [Fact]
    public void A_file_is_imported_once_it_is_finished_and_not_while_it_grows()
    {
        _bench.Write("logs/teal_2026-10-01T1000.csv", PlainLog.Charge(3, seed: 1));
        using Watching watch = Start();
        watch.WaitFor("teal_2026-10-01T1000.csv: imported, Teal");

        string[] rows = PlainLog.Charge(3, seed: 2).Split('\n');
        using (StreamWriter writer = File.CreateText(Path.Combine(_logs, "teal_2026-10-02T1000.csv")))
        {
            for (int part = 0; part < 12; part++)
            {
                writer.Write(string.Join('\n', rows[(rows.Length * part / 12)..(rows.Length * (part + 1) / 12)]) + (part == 11 ? string.Empty : "\n"));
                writer.Flush();
                Thread.Sleep(250);
            }
        }

        watch.WaitFor("teal_2026-10-02T1000.csv: imported, Teal");
        Assert.Equal(0, watch.End("TERM"));
        Assert.Equal([$"{(rows.Length - 2)}"], SqliteRows.Read(_bench.History, "select cast(sample_count as text) from session_summary order by session_id desc limit 1"));
        Assert.Equal(
            [$"Watching {_logs}; Ctrl-C stops.", $"{Log(1)}: imported, Teal", $"{Log(2)}: imported, Teal", "Stopped."],
            watch.Seen);
    }

    [Fact]
    public void A_file_renamed_into_place_or_linked_is_imported_and_one_that_vanishes_is_not_spoken_of()
    {
        using Watching watch = Start();
        watch.WaitFor("Watching");
        string vanishing = _bench.Write("logs/vanishing.csv", PlainLog.Charge(3, seed: 5));
        File.Move(_bench.Write("logs/teal_2026-10-01T1000.csv.part", PlainLog.Charge(3, seed: 1)), Log(1));
        File.CreateSymbolicLink(Log(2), _bench.Write("teal elsewhere.csv", PlainLog.Charge(3, seed: 2)));
        Thread.Sleep(500);
        File.Delete(vanishing);
        watch.WaitFor($"{Log(1)}: imported, Teal");
        watch.WaitFor($"{Log(2)}: imported, Teal");

        // The same again under another name: a line, and nothing more.
        File.Copy(Log(1), Path.Combine(_logs, "copy.csv"));
        watch.WaitFor("copy.csv: already-imported");
        Assert.Equal(0, watch.End("INT"));
        Assert.Equal(5, watch.Seen.Count);
        Assert.Equal(["2"], Count("session"));
    }

    [Theory]
    [InlineData("mkfifo odd.csv", "no plain file")]
    [InlineData("ln -s /dev/zero odd.csv", "no plain file")]
    [InlineData("ln -s nowhere odd.csv", "cannot be read")]
    [InlineData("ln -s odd.csv odd.csv", "cannot be read")]
    [InlineData("printf 'no log\\nat all\\n' > odd.csv", "; ")]
    public void What_is_no_log_gets_one_line_and_holds_nothing_up(string make, string said)
    {
        Assert.Equal(0, Shell.Run($"cd '{_logs}' && {make}").ExitCode);
        using Watching watch = Start();
        Assert.Contains(said, watch.WaitFor("odd.csv"), StringComparison.Ordinal);
        _bench.Write("logs/teal_2026-10-01T1000.csv", PlainLog.Charge(3, seed: 1));
        watch.WaitFor($"{Log(1)}: imported, Teal");

        // What could not be read is looked at again, without a word, until it can be.
        File.Delete(Path.Combine(_logs, "odd.csv"));
        _bench.Write("logs/odd.csv", PlainLog.Charge(3, seed: 2));
        watch.WaitFor("odd.csv: unassigned; 'packcare assign' shows what waits for its pack");
        Assert.Equal(0, watch.End("TERM"));
        Assert.Equal(5, watch.Seen.Count);
    }

    [Fact]
    public void A_folder_that_goes_away_and_comes_back_is_watched_again()
    {
        using Watching watch = Start();
        watch.WaitFor("Watching");
        Directory.Delete(_logs);
        Assert.EndsWith("there is no such file or folder; check the path. This goes on trying.", watch.WaitFor("packcare:"), StringComparison.Ordinal);
        Thread.Sleep(600);
        _bench.Write("logs/teal_2026-10-01T1000.csv", PlainLog.Charge(3, seed: 1));
        watch.WaitFor($"{Log(1)}: imported, Teal");
        Assert.Equal(0, watch.End("TERM"));
        Assert.Equal(4, watch.Seen.Count);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void While_another_program_holds_the_history_one_line_says_so_and_the_file_is_imported_afterwards(bool fromTheStart)
    {
        using var other = new SqliteConnection($"Data Source={_bench.History};Pooling=False");
        other.Open();
        if (fromTheStart)
        {
            // Even reading has to wait then.
            Run(other, "PRAGMA locking_mode = EXCLUSIVE; BEGIN EXCLUSIVE; UPDATE pack SET revision = revision; COMMIT");
        }

        using Watching watch = Start();
        if (!fromTheStart)
        {
            watch.WaitFor("Watching");
            Run(other, "BEGIN IMMEDIATE");
        }

        _bench.Write("logs/teal_2026-10-01T1000.csv", PlainLog.Charge(3, seed: 1));
        watch.WaitFor("in use by another program; try again when that is done. This goes on trying.");

        // Long enough for further attempts.
        Thread.Sleep(TimeSpan.FromSeconds(6));
        other.Dispose();
        watch.WaitFor($"{Log(1)}: imported, Teal");
        Assert.Equal(0, watch.End("TERM"));
        Assert.Equal(4, watch.Seen.Count);
        _bench.Run("doctor").Expect(0);
    }

    [Fact]
    public void Killed_in_the_middle_of_imports_and_started_again_it_takes_in_each_export_once()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "looks into /proc for the moment");
        const int Files = 10;
        var random = new Random(20261125);
        for (int file = 1; file <= Files; file++)
        {
            File.WriteAllText(Log(file), PlainLog.Charge(3, seed: file, minutes: 300 + file));
        }

        var named = new List<string>();
        int midway = 0;
        for (int start = 0; start < Files && Missing() is [_, ..] missing; start++)
        {
            using Watching watch = new(_bench, _logs, settle: "0.1");
            // The second of those that are left, so that each start comes further than the one before.
            watch.WaitUntilItReads([.. missing.Skip(missing.Count > 1 ? 1 : 0)]);
            Thread.Sleep(random.Next(100));
            watch.Process.Kill();
            watch.Process.WaitForExit();
            named.AddRange(Named(watch));
            midway += Missing().Count is > 0 and < Files ? 1 : 0;
            Assert.DoesNotContain(named, file => Missing().Contains(file));
            Assert.True(HistoryFile.Examine(_bench.History).Sound);
        }

        using (Watching last = Start())
        {
            _bench.Write("logs/teal_2026-10-28T1000.csv", PlainLog.Charge(3, seed: 28));
            last.WaitFor($"{Log(28)}: imported, Teal");
            Assert.Equal(0, last.End("TERM"));
            named.AddRange(Named(last));
        }

        Assert.Equal(named.Distinct(), named);
        Assert.Equal(
            [.. Enumerable.Range(1, Files).Append(28).Select(file => $"{Path.GetFileName(Log(file))} 1")],
            SqliteRows.Read(_bench.History, "select f.name || ' ' || count(*) from file f join session s on s.file_id = f.id group by f.name order by f.name"));
        _bench.Run("doctor").Expect(0);
        Assert.True(midway > 2, $"{midway} kills fell between the first and the last file");

        IReadOnlyList<string> Missing() =>
            [.. Enumerable.Range(1, Files).Select(Log).ExceptBy(SqliteRows.Read(_bench.History, "select name from file"), path => Path.GetFileName(path))];

        static string[] Named(Watching watch) =>
            [.. watch.Seen.Where(line => line.EndsWith(": imported, Teal", StringComparison.Ordinal)).Select(line => line[..line.IndexOf(": ", StringComparison.Ordinal)])];
    }

    [Fact]
    public void A_signal_in_the_middle_of_a_big_import_ends_it_whole_or_not_begun()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "looks into /proc for the moment");
        int samples = 0;
        string big = PlainLog.Charge(3, seed: 1, minutes: 15_000);
        foreach (int delay in new[] { 0, 40, 120 })
        {
            string log = Log(delay);
            File.WriteAllText(log, big + "\n");
            big = big.TrimEnd('\n') + "\n" + "# " + delay.ToString(CultureInfo.InvariantCulture) + "\n";
            using Watching watch = Start();
            watch.WaitUntilItReads(log);
            Thread.Sleep(delay);

            Assert.Equal(0, watch.End("TERM"));
            Assert.Contains("Stopped.", watch.Seen);
            bool said = watch.Seen.Any(line => line.StartsWith(log + ": imported", StringComparison.Ordinal));
            IReadOnlyList<string> stored = SqliteRows.Read(_bench.History, $"select cast(m.sample_count as text) from session_summary m join session s on s.id = m.session_id join file f on f.id = s.file_id where f.name = '{Path.GetFileName(log)}'");
            Assert.Equal(said ? [$"{(15_000 * 60 + 720) / 5 + 1}"] : [], stored);
            samples += stored.Count;
        }

        _bench.Run("doctor").Expect(0);
        Assert.True(samples > 0, "nothing was ever imported");
    }

    private Watching Start() => new(_bench, _logs);

    private string Log(int day) => Path.Combine(_logs, string.Create(CultureInfo.InvariantCulture, $"teal_2026-10-{day:D2}T1000.csv"));

    private IReadOnlyList<string> Count(string table) => SqliteRows.Read(_bench.History, $"select cast(count(*) as text) from {table}");

    private static void Run(SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }
}
