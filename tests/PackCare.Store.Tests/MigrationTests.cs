using Microsoft.Data.Sqlite;
using PackCare.Store.Schema;

namespace PackCare.Store.Tests;

/// <summary>Files/version-1.db was written by version 1 itself, with what VersionOne.Fill stores.</summary>
public sealed class MigrationTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();
    private readonly string _path;

    public MigrationTests()
    {
        _path = _folder.File("history.db");
        File.Copy(Path.Combine(AppContext.BaseDirectory, "Files", "version-1.db"), _path);
    }

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_history_of_version_1_keeps_everything_when_it_is_brought_up_to_date()
    {
        Assert.Equal(1L, Sql.Ask(_path, "PRAGMA user_version"));
        using History old = History.Open(_path, create: false);
        string fresh = _folder.File("fresh.db");
        using History now = Make.NewHistory(fresh);
        VersionOne.Fill(now);

        Make.AssertSame(now.LoadAll(), old.LoadAll());
        Make.AssertSame(now.Files(), old.Files());
        Make.AssertSame(now.Unassigned(), old.Unassigned());
        Make.AssertSame(now.LoadFile(Make.Sha("one"))!, old.LoadFile(Make.Sha("one"))!);
        Assert.All(now.SessionIds(), id => Make.AssertSame(now.LoadSamples(id), old.LoadSamples(id)));
        Assert.Equal((long)Migrations.Latest, Sql.Ask(_path, "PRAGMA user_version"));
    }

    [Fact]
    public void A_history_that_was_brought_up_to_date_has_the_very_tables_of_a_new_one()
    {
        const string Tables = "SELECT group_concat(name || ':' || sql, char(10)) FROM (SELECT name, sql FROM sqlite_schema ORDER BY name)";
        History.Open(_path, create: false).Dispose();
        string fresh = _folder.File("fresh.db");
        Make.NewHistory(fresh).Dispose();

        Assert.Equal(Sql.Ask(fresh, Tables), Sql.Ask(_path, Tables));
        Assert.True(HistoryFile.Examine(_path).Sound);
    }

    [Fact]
    public void The_file_as_it_was_is_kept_before_it_is_changed()
    {
        History.Open(_path, create: false).Dispose();

        string kept = _path + ".version-1";
        Assert.Equal(1L, Sql.Ask(kept, "PRAGMA user_version"));
        Assert.Equal(3L, Sql.Ask(kept, "SELECT count(*) FROM session"));
        Assert.Equal("ok", Sql.Ask(kept, "PRAGMA integrity_check"));
    }

    [Fact]
    public void Nothing_is_kept_aside_where_nothing_was_changed()
    {
        string fresh = _folder.File("fresh.db");
        Make.NewHistory(fresh).Dispose();
        History.Open(fresh, create: false).Dispose();

        Assert.Empty(Directory.GetFiles(_folder.Path, "fresh.db.v*"));
    }

    [Fact]
    public void Many_programs_at_once_bring_it_up_to_date_once()
    {
        Parallel.For(0, 6, new ParallelOptions { MaxDegreeOfParallelism = 6 }, i =>
        {
            using History history = History.Open(_path, create: false);
            Assert.NotNull(history.AddPack(Make.Details($"new {i}"), Make.Morning));
        });

        using History after = History.Open(_path, create: false);
        Assert.Equal(8, after.Packs().Count);
        Assert.Equal(2L, Sql.Ask(_path + ".version-1", "SELECT count(*) FROM pack"));
    }

    [Fact]
    public void A_migration_that_fails_half_way_leaves_the_file_as_it_was()
    {
        Sql.Run(_path, "CREATE TABLE digest (in_the_way INTEGER) STRICT");

        HistoryException error = Assert.Throws<HistoryException>(() => History.Open(_path, create: false));

        Assert.Equal(HistoryFault.Damaged, error.Fault);
        Assert.Equal(1L, Sql.Ask(_path, "PRAGMA user_version"));
        Assert.Equal(0L, Sql.Ask(_path, "SELECT count(*) FROM pragma_table_info('pack') WHERE name = 'removed'"));
    }

    [Fact]
    public void An_old_history_that_cannot_be_written_is_refused_with_the_reason()
    {
        Assert.SkipUnless(Rights.Bind, "Rights do not bind this user.");
        Rights.TakeWriting(_path);

        HistoryException error = Assert.Throws<HistoryException>(() => History.Open(_path, create: false));

        Assert.Equal(HistoryFault.NotWritable, error.Fault);
        Assert.Contains("earlier version", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_migration_has_a_script_and_runs_from_the_one_before()
    {
        using var connection = new SqliteConnection("Data Source=:memory:");
        connection.Open();

        for (int version = 1; version <= Migrations.Latest; version++)
        {
            int runs = 0;
            Migrations.Apply(connection, () => runs++, version);
            Assert.Equal(1, runs);
        }
    }
}
