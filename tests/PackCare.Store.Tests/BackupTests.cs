using PackCare.Core.Packs;
using PackCare.Store.Opening;

namespace PackCare.Store.Tests;

public sealed class BackupTests : IDisposable
{
    private static readonly DateTimeOffset Now = new(2025, 6, 1, 12, 0, 0, TimeSpan.FromHours(2));

    private readonly TemporaryFolder _folder = new();
    private readonly string _path;
    private readonly string _backup;

    public BackupTests()
    {
        _path = _folder.File("history.db");
        _backup = _folder.File("backup.db");
    }

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_backup_is_one_verified_file_with_all_that_was_stored()
    {
        using History history = Filled(_path);

        HealthReport report = HistoryFile.Backup(history, _backup, replace: false);

        Assert.True(report.Sound);
        Assert.Equal((2, 3), (report.Packs, report.Sessions));
        Assert.Equal(["backup.db", "history.db", "history.db-shm", "history.db-wal"], Names());
        history.Dispose();
        using History copy = History.Open(_backup, create: false);
        using History again = History.Open(_path, create: false);
        Make.AssertSame(again.LoadAll(), copy.LoadAll());
        Assert.All(again.SessionIds(), id => Make.AssertSame(again.LoadSamples(id), copy.LoadSamples(id)));
    }

    [Fact]
    public async Task A_backup_made_while_others_write_is_consistent()
    {
        using History history = Filled(_path);
        using var stop = new CancellationTokenSource();
        Task writing = Task.Run(() =>
        {
            using History writer = History.Open(_path, create: false);
            for (int i = 0; !stop.IsCancellationRequested; i++)
            {
                writer.AddFile(Make.File($"busy {i}"), [new NewSession(null, Make.Log(rows: 400), Make.Summary())]);
            }
        }, TestContext.Current.CancellationToken);

        for (int i = 0; i < 10; i++)
        {
            Assert.True(HistoryFile.Backup(history, _backup, replace: true).Sound);
        }

        await stop.CancelAsync();
        await writing;
    }

    [Fact]
    public void A_backup_replaces_nothing_unless_told_to()
    {
        using History history = Filled(_path);
        File.WriteAllText(_backup, "precious");

        AssertFault(HistoryFault.Conflict, () => HistoryFile.Backup(history, _backup, replace: false));
        Assert.Equal("precious", File.ReadAllText(_backup));
        AssertFault(HistoryFault.NotAHistory, () => HistoryFile.Backup(history, _folder.Path, replace: true));

        HistoryFile.Backup(history, _backup, replace: true);
        Assert.True(HistoryFile.Examine(_backup).Sound);
    }

    [Fact]
    public void A_backup_into_a_folder_that_is_not_there_is_refused_with_its_name()
    {
        using History history = Filled(_path);

        HistoryException error = AssertFault(HistoryFault.NotWritable, () => HistoryFile.Backup(history, _folder.File("no/backup.db"), replace: false));

        Assert.Contains(_folder.File("no/backup.db"), error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_backup_of_a_history_with_damaged_samples_is_made_and_says_so()
    {
        using History history = Filled(_path);
        Sql.Run(_path, "UPDATE sample_block SET encoded = zeroblob(9) WHERE id = 2");

        HealthReport report = HistoryFile.Backup(history, _backup, replace: false);

        Assert.Equal(ComplaintKind.Block, Assert.Single(report.Complaints).Kind);
        Assert.True(File.Exists(_backup));
    }

    [Fact]
    public void A_backup_is_restored_where_nothing_stands()
    {
        Filled(_backup).Dispose();
        byte[] before = File.ReadAllBytes(_backup);

        Assert.Null(HistoryFile.Restore(_backup, _folder.File("deep/history.db"), replace: false, Now));

        Assert.Equal(before, File.ReadAllBytes(_backup));
        using History restored = History.Open(_folder.File("deep/history.db"), create: false);
        Assert.Equal(2, restored.Packs().Count);
        Assert.Equal(3, restored.SessionIds().Count);
    }

    [Fact]
    public void A_restored_backup_takes_the_place_of_a_history_only_when_told_to_and_the_old_one_is_kept()
    {
        Filled(_backup).Dispose();
        using (History old = Make.NewHistory(_path))
        {
            old.AddPack(Make.Details("only here"), Make.Morning);
        }

        AssertFault(HistoryFault.Conflict, () => HistoryFile.Restore(_backup, _path, replace: false, Now));
        string aside = HistoryFile.Restore(_backup, _path, replace: true, Now)!;
        string second = HistoryFile.Restore(_backup, _path, replace: true, Now)!;

        Assert.Equal("history.db.replaced-20250601T100000Z", Path.GetFileName(aside));
        Assert.Equal("history.db.replaced-20250601T100000Z-2", Path.GetFileName(second));
        using History kept = History.Open(aside, create: false);
        Assert.Equal("only here", Assert.Single(kept.Packs()).Label);
        using History restored = History.Open(_path, create: false);
        Assert.Equal(2, restored.Packs().Count);
    }

    [Fact]
    public void A_history_in_use_is_not_replaced()
    {
        Filled(_backup).Dispose();
        using History old = Filled(_path);
        Pack added = old.AddPack(Make.Details("just now"), Make.Morning)!;

        AssertFault(HistoryFault.Locked, () => HistoryFile.Restore(_backup, _path, replace: true, Now));

        Assert.Equal(added, old.FindPack("just now"));
        Assert.DoesNotContain(Names(), name => name!.Contains("part", StringComparison.Ordinal) || name.Contains("replaced", StringComparison.Ordinal));
    }

    [Fact]
    public void What_the_log_of_the_old_history_still_held_is_kept_with_it()
    {
        Filled(_backup).Dispose();
        string left = _folder.File("left.db");
        using (History old = Filled(_path))
        {
            old.AddPack(Make.Details("in the log"), Make.Morning);
            File.Copy(_path, left);
            File.Copy(_path + "-wal", left + "-wal");
        }

        string aside = HistoryFile.Restore(_backup, left, replace: true, Now)!;

        using History kept = History.Open(aside, create: false);
        Assert.NotNull(kept.FindPack("in the log"));
        using History restored = History.Open(left, create: false);
        Assert.Null(restored.FindPack("in the log"));
    }

    [Fact]
    public void Only_a_sound_history_is_restored()
    {
        Filled(_path).Dispose();
        File.WriteAllText(_folder.File("text.db"), "not a backup");
        Filled(_backup).Dispose();
        Break(_backup);

        AssertFault(HistoryFault.NotAHistory, () => HistoryFile.Restore(_folder.File("text.db"), _path, replace: true, Now));
        AssertFault(HistoryFault.Missing, () => HistoryFile.Restore(_folder.File("none.db"), _path, replace: true, Now));
        AssertFault(HistoryFault.Damaged, () => HistoryFile.Restore(_backup, _path, replace: true, Now));

        Assert.True(HistoryFile.Examine(_path).Sound);
        Assert.Equal(["backup.db", "history.db", "text.db"], Names());
    }

    [Fact]
    public void A_backup_of_an_earlier_version_is_restored_as_it_is_and_brought_up_to_date_when_opened()
    {
        File.Copy(Path.Combine(AppContext.BaseDirectory, "Files", "version-1.db"), _backup);

        HistoryFile.Restore(_backup, _path, replace: false, Now);

        Assert.Equal(1L, Sql.Ask(_backup, "PRAGMA user_version"));
        using History restored = History.Open(_path, create: false);
        Assert.Equal(2, restored.Packs().Count);
    }

    [Fact]
    public void A_full_disk_leaves_no_half_backup_and_no_half_import()
    {
        using History history = Filled(_path);
        string before = Make.Text(history.Files());
        history.Execute($"PRAGMA max_page_count = {1 + (new FileInfo(_path).Length / 4096)}");

        HistoryException error = AssertFault(HistoryFault.DiskFull, () =>
        {
            for (int i = 0; i < 100; i++)
            {
                history.AddFile(Make.File($"large {i}"), [new NewSession(null, Make.Log(rows: 60_000, seed: i), Make.Summary())]);
                before = Make.Text(history.Files());
            }
        });

        Assert.Contains("full", error.Message, StringComparison.Ordinal);
        Assert.Equal(before, Make.Text(history.Files()));
        Assert.True(HistoryFile.Examine(_path).Sound);
        history.Execute("PRAGMA max_page_count = 1000000");
        Assert.Single(history.AddFile(Make.File("after"), [new NewSession(null, Make.Log(), Make.Summary())]).SessionIds);
    }

    [Fact]
    public void Names_of_files_set_aside_never_collide()
    {
        string first = Copies.Aside(_path, "damaged", Now);
        File.WriteAllText(first, "");
        string second = Copies.Aside(_path, "damaged", Now);
        File.WriteAllText(second, "");

        Assert.Equal(3, new HashSet<string> { first, second, Copies.Aside(_path, "damaged", Now) }.Count);
    }

    internal static History Filled(string path)
    {
        History history = Make.NewHistory(path);
        VersionOne.Fill(history);
        return history;
    }

    /// <summary>Overwrites a page in the middle of the file.</summary>
    internal static void Break(string path, string name = "diary_entry_by_pack")
    {
        long root = (long)Sql.Ask(path, $"SELECT rootpage FROM sqlite_schema WHERE name = '{name}'")!;
        using FileStream file = new(path, FileMode.Open, FileAccess.ReadWrite);
        file.Position = (root - 1) * 4096;
        file.Write(Enumerable.Repeat((byte)0xA5, 4096).ToArray());
    }

    private static HistoryException AssertFault(HistoryFault fault, Action work)
    {
        HistoryException error = Assert.Throws<HistoryException>(work);
        Assert.Equal(fault, error.Fault);
        return error;
    }

    private IEnumerable<string?> Names() => Directory.GetFiles(_folder.Path).Select(Path.GetFileName).Order(StringComparer.Ordinal);
}
