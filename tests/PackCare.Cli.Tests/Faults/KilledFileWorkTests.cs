using System.Globalization;
using PackCare.Cli.Tests.Running;
using PackCare.Store;

namespace PackCare.Cli.Tests.Faults;

/// <summary>Bringing an old history up to date, backing up and restoring, each killed at random moments.</summary>
public sealed class KilledFileWorkTests : IDisposable
{
    private const int Kills = 60;

    private readonly Bench _bench = new();
    private readonly string _old;

    public KilledFileWorkTests()
    {
        // A history that the first version wrote, with many more files in it, so that copying it takes a while.
        _old = Path.Combine(_bench.Folder, "old.db");
        File.Copy(Path.Combine(Repository.Root, "tests", "PackCare.Store.Tests", "Files", "version-1.db"), _old);
        SqliteRows.Read(_old, """
            with recursive n(i) as (values(1) union all select i + 1 from n where i < 8000)
            insert into file (sha256, name, bytes, imported_utc, imported_offset_min, reading, ledger, notices)
            select printf('%064x', i), name, bytes, imported_utc, imported_offset_min, reading, ledger, notices
            from n, (select * from file order by id limit 1) returning 'done'
            """);
    }

    public void Dispose() => _bench.Dispose();

    [Fact]
    public void A_step_to_the_present_structure_killed_at_sixty_random_moments_happens_wholly_or_not_at_all()
    {
        var killing = new Killing(_bench.Folder, seed: 20261102);
        Begin(_old);
        TimeSpan usual = killing.Time("list", "--history", _bench.History);
        string whole = Content();
        int before = 0;
        int after = 0;
        for (int kill = 0; kill < Kills; kill++)
        {
            Begin(_old);
            killing.Run(usual, "list", "--history", _bench.History);

            bool old = Version(_bench.History) == 1;
            before += old ? 1 : 0;
            after += old ? 0 : 1;
            if (!old)
            {
                Assert.Equal(1, Version(_bench.History + ".version-1"));
                Assert.Equal(["ok"], SqliteRows.Read(_bench.History + ".version-1", "pragma integrity_check"));
            }

            // The next run, every tenth one by the executable.
            if (kill % 10 == 0)
            {
                _bench.Run("list").Expect(0);
            }

            History.Open(_bench.History, create: false).Dispose();
            Assert.Equal(whole, Content());
            Assert.Equal(1, Version(_bench.History + ".version-1"));
            Assert.Empty(HistoryFile.Examine(_bench.History).Complaints);
        }

        _bench.Run("doctor").Expect(0);
        Assert.True(before > 0 && after > 0, $"{before} kills before the step was done, {after} after it");
    }

    [Fact]
    public void A_backup_killed_at_sixty_random_moments_is_whole_or_not_there()
    {
        Begin(_old);
        _bench.Run("list").Expect(0);
        string whole = Content();
        string copy = Path.Combine(_bench.Folder, "copy.db");
        var killing = new Killing(_bench.Folder, seed: 20261103);
        TimeSpan usual = killing.Time("backup", copy, "--history", _bench.History);
        File.Delete(copy);
        int there = 0;
        for (int kill = 0; kill < Kills; kill++)
        {
            string printed = killing.Run(usual, "backup", copy, "--replace", "--history", _bench.History);

            Assert.True(File.Exists(copy) || !printed.Contains("Copied", StringComparison.Ordinal), "it was reported and is not there");
            if (File.Exists(copy))
            {
                there++;
                Assert.Empty(HistoryFile.Examine(copy).Complaints);
                File.Delete(copy);
            }

            Assert.Equal(whole, Content());
        }

        _bench.Run("backup", copy).Expect(0);
        _bench.Run("doctor").Expect(0);
        Assert.True(there < Kills && killing.InTime >= Kills / 3, $"{there} backups were there, {killing.InTime} kills in time");
    }

    [Fact]
    public void A_restore_killed_at_twenty_random_moments_leaves_the_history_or_the_backup_in_its_place()
    {
        Begin(_old);
        _bench.Run("add", "Only now", "--cells", "3").Expect(0);
        string copy = Path.Combine(_bench.Folder, "copy.db");
        _bench.Run("backup", copy).Expect(0);
        _bench.Run("add", "Later", "--cells", "3").Expect(0);
        string later = Path.Combine(_bench.Folder, "later.db");
        _bench.Run("backup", later).Expect(0);
        var killing = new Killing(_bench.Folder, seed: 20261104);
        TimeSpan usual = killing.Time("restore", copy, "--replace", "--history", _bench.History);
        for (int kill = 0; kill < 20; kill++)
        {
            Begin(later);
            killing.Run(usual, "restore", copy, "--replace", "--history", _bench.History);

            string kept = Directory.GetFiles(_bench.Folder, "history.db.replaced-*").SingleOrDefault() ?? _bench.History;
            Assert.Empty(HistoryFile.Examine(_bench.History).Complaints);
            Assert.Contains("Only now", Labels(_bench.History));
            Assert.Contains("Later", Labels(kept));
        }

        _bench.Run("doctor").Expect(0);
        Assert.True(killing.InTime >= 5, $"{killing.InTime} kills in time");
    }

    private void Begin(string from)
    {
        foreach (string left in Directory.GetFiles(_bench.Folder, "history.db*"))
        {
            File.Delete(left);
        }

        File.Copy(from, _bench.History);
    }

    private static int Version(string path) =>
        int.Parse(Assert.Single(SqliteRows.Read(path, "select cast(user_version as text) from pragma_user_version")), CultureInfo.InvariantCulture);

    private static IReadOnlyList<string> Labels(string path) => SqliteRows.Read(path, "select label from pack");

    private string Content() => string.Join('\n', SqliteRows.Read(_bench.History, """
        select 'pack ' || label from pack union all select 'session ' || id || ' ' || started_utc from session
        union all select 'blocks ' || count(*) || ' ' || sum(length(encoded)) from sample_block union all select 'files ' || count(*) from file order by 1
        """));
}
