using PackCare.Cli.Tests.Running;
using PackCare.Store;

namespace PackCare.Cli.Tests.Faults;

/// <summary>An import that is killed leaves whole files only, all of those that it had named, and the next run goes on from there.</summary>
public sealed class KilledImportTests : IDisposable
{
    private const int Kills = 80;
    private const int Files = 12;

    private readonly Bench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Fact]
    public void An_import_killed_at_eighty_random_moments_loses_nothing_that_it_named()
    {
        for (int file = 0; file < Files; file++)
        {
            _bench.Write($"logs/heron-1_2026-09-{file + 1:D2}T1000.csv", PlainLog.Charge(4, seed: file, minutes: 30 + file));
        }

        string logs = Path.Combine(_bench.Folder, "logs");
        _bench.Run("add", "Heron 1", "--cells", "4").Expect(0);
        string empty = Path.Combine(_bench.Folder, "empty.db");
        File.Copy(_bench.History, empty);
        var killing = new Killing(_bench.Folder, seed: 20261101);
        TimeSpan usual = killing.Time("import", logs, "--history", _bench.History);
        string[] whole = Sessions();
        Assert.Equal(Files, whole.Length);
        int midway = 0;
        int completed = 0;
        var named = new HashSet<string>();
        Begin();
        for (int kill = 0; kill < Kills; kill++)
        {
            foreach (string line in killing.Run(usual, "import", logs, "--history", _bench.History).Split('\n').SkipLast(1).Where(line => line.Contains("sample line", StringComparison.Ordinal)))
            {
                named.Add(Path.GetFileName(line[..line.IndexOf(": ", StringComparison.Ordinal)]));
            }

            string[] stored = Sessions();
            Assert.Subset(whole.ToHashSet(), stored.ToHashSet());
            Assert.Subset(stored.Select(session => session.Split(' ')[0]).ToHashSet(), named);
            Assert.True(HistoryFile.Examine(_bench.History).Sound);
            midway += stored.Length is > 0 and < Files ? 1 : 0;
            if (stored.Length == Files)
            {
                Assert.Contains($"{Files} imported before", _bench.Run("import", logs).Expect(0).Out, StringComparison.Ordinal);
                completed++;
                Begin();
            }
        }

        _bench.Run("import", logs).Expect(0);
        Assert.Equal(whole, Sessions());
        _bench.Run("doctor").Expect(0);

        // Otherwise the moments were badly chosen and the test shows nothing.
        Assert.True(midway >= Kills / 5, $"{midway} of {Kills} kills fell between the first and the last file; {completed} imports were completed");

        void Begin()
        {
            foreach (string old in Directory.GetFiles(_bench.Folder, "history.db*"))
            {
                File.Delete(old);
            }

            File.Copy(empty, _bench.History);
            named.Clear();
        }
    }

    // What a reader sees: each session's file, and figures that rest on all of its samples.
    private string[] Sessions() => [.. SqliteRows.Read(_bench.History, """
        select file.name || ' ' || s.started_utc || ' ' || m.sample_count || ' ' || coalesce(m.charge_in_ah, 0) || ' ' || count(b.encoded) || ' ' || sum(length(b.encoded))
        from session s join file on file.id = s.file_id join session_summary m on m.session_id = s.id join sample_block b on b.session_id = s.id
        group by s.id order by 1
        """)];
}
