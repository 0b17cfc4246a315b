using System.Security.Cryptography;
using System.Text;
using PackCare.Core.Packs;
using PackCare.Store.Schema;

namespace PackCare.Store.Tests;

public sealed class OpeningTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_history_is_made_with_its_folder_where_there_is_none()
    {
        string path = _folder.File("new/deep/history.db");

        using (History history = History.Open(path, create: true))
        {
            Assert.Equal(path, history.Path);
            Assert.False(history.ReadOnly);
            Assert.Empty(history.Packs());
        }

        Assert.Equal(["history.db"], Directory.GetFiles(_folder.File("new/deep")).Select(Path.GetFileName));
        Assert.Equal((long)Migrations.ApplicationId, Sql.Ask(path, "PRAGMA application_id"));
        Assert.Equal((long)Migrations.Latest, Sql.Ask(path, "PRAGMA user_version"));
    }

    [Fact]
    public void Every_table_is_strict_and_the_file_keeps_a_write_ahead_log()
    {
        string path = _folder.File("history.db");
        Make.NewHistory(path).Dispose();

        Assert.Equal(0L, Sql.Ask(path, "SELECT count(*) FROM pragma_table_list WHERE schema = 'main' AND name NOT LIKE 'sqlite_%' AND strict = 0"));
        Assert.Equal("wal", Sql.Ask(path, "PRAGMA journal_mode"));
    }

    [Fact]
    public void Every_reference_is_backed_by_an_index_so_that_removals_stay_fast()
    {
        string path = _folder.File("history.db");
        Make.NewHistory(path).Dispose();

        Assert.Equal("", Sql.Ask(
            path,
            """
            SELECT coalesce(group_concat(t.name || '.' || f."from"), '')
            FROM pragma_table_list t JOIN pragma_foreign_key_list(t.name) f
            WHERE t.schema = 'main'
              AND NOT EXISTS (SELECT 1 FROM pragma_table_info(t.name) c WHERE c.name = f."from" AND c.pk = 1)
              AND NOT EXISTS (
                  SELECT 1 FROM pragma_index_list(t.name) i JOIN pragma_index_info(i.name) c ON c.seqno = 0 AND c.name = f."from")
            """));
    }

    [Fact]
    public void Foreign_keys_hold()
    {
        string path = _folder.File("history.db");
        using History history = Make.NewHistory(path);
        history.AddFile(Make.File(), [new NewSession(null, Make.Log(), Make.Summary())]);

        Assert.Equal(HistoryFault.Conflict, Assert.Throws<HistoryException>(() => history.Execute("UPDATE session SET pack_id = 12")).Fault);
        history.Execute("DELETE FROM file");

        Assert.Equal(0L, Sql.Ask(path, "SELECT (SELECT count(*) FROM session) + (SELECT count(*) FROM sample_block) + (SELECT count(*) FROM session_summary) + (SELECT count(*) FROM cell_summary)"));
    }

    [Fact]
    public void What_is_missing_is_not_made_unless_asked_for()
    {
        AssertFault(HistoryFault.Missing, _folder.File("none.db"));
        AssertFault(HistoryFault.Missing, _folder.File("no/such/folder/none.db"));

        Assert.Empty(Directory.GetFileSystemEntries(_folder.Path));
    }

    [Fact]
    public void An_empty_file_is_a_history_that_was_not_begun()
    {
        string path = _folder.File("history.db");
        File.WriteAllBytes(path, []);

        AssertFault(HistoryFault.Missing, path);
        Assert.Equal(0, new FileInfo(path).Length);
        History.Open(path, create: true).Dispose();
        History.Open(path, create: false).Dispose();
    }

    [Fact]
    public void A_folder_is_no_history()
    {
        HistoryException error = AssertFault(HistoryFault.NotAHistory, _folder.Path);

        Assert.Contains("is a folder", error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(99)]
    [InlineData(100)]
    [InlineData(4096)]
    [InlineData(70_000)]
    public void A_file_of_another_kind_is_refused_and_left_as_it_is(int length)
    {
        string path = _folder.File("garbage.db");
        var bytes = new byte[length];
        new Random(length).NextBytes(bytes);
        AssertRefusedUntouched(HistoryFault.NotAHistory, path, bytes);
    }

    [Fact]
    public void A_text_file_is_refused_and_left_as_it_is() =>
        AssertRefusedUntouched(HistoryFault.NotAHistory, _folder.File("log.csv"), Encoding.UTF8.GetBytes("time_s,current_a\n0,1.0\n"));

    [Theory]
    [InlineData("PRAGMA user_version = 1; CREATE TABLE letter (id INTEGER PRIMARY KEY, text TEXT); INSERT INTO letter (text) VALUES ('dear')")]
    [InlineData("PRAGMA journal_mode = WAL; CREATE TABLE letter (id INTEGER PRIMARY KEY, text TEXT)")]
    [InlineData("PRAGMA application_id = 77; CREATE TABLE pack (id INTEGER PRIMARY KEY)")]
    public void A_database_of_another_program_is_refused_and_left_as_it_is(string sql)
    {
        string path = _folder.File("other.db");
        Sql.Run(path, sql);
        AssertRefusedUntouched(HistoryFault.NotAHistory, path, File.ReadAllBytes(path));
    }

    [Fact]
    public void A_history_of_a_later_version_is_refused_and_left_as_it_is()
    {
        string path = _folder.File("later.db");
        Make.NewHistory(path).Dispose();
        Sql.Run(path, $"CREATE TABLE marvel (id INTEGER PRIMARY KEY) STRICT; PRAGMA user_version = {Migrations.Latest + 1}");
        AssertRefusedUntouched(HistoryFault.Newer, path, File.ReadAllBytes(path));
    }

    [Fact]
    public void A_later_version_is_recognised_also_in_a_log_that_was_left_behind()
    {
        string path = _folder.File("later.db");
        Make.NewHistory(path).Dispose();
        byte[] before = File.ReadAllBytes(path);
        string left = _folder.File("left.db");
        using (var writer = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={path};Pooling=False"))
        {
            writer.Open();
            using Microsoft.Data.Sqlite.SqliteCommand command = writer.CreateCommand();
            command.CommandText = $"PRAGMA user_version = {Migrations.Latest + 1}";
            command.ExecuteNonQuery();
            File.Copy(path, left);
            File.Copy(path + "-wal", left + "-wal");
        }

        byte[] log = File.ReadAllBytes(left + "-wal");
        Assert.Equal(before, File.ReadAllBytes(left));

        AssertFault(HistoryFault.Newer, left);

        Assert.Equal(before, File.ReadAllBytes(left));
        Assert.Equal(log, File.ReadAllBytes(left + "-wal"));
    }

    [Fact]
    public void A_cut_off_history_is_reported_as_damaged()
    {
        string path = _folder.File("history.db");
        using (History history = Make.NewHistory(path))
        {
            history.AddFile(Make.File(), [new NewSession(null, Make.Log(rows: 5000), Make.Summary())]);
        }

        using (FileStream file = File.OpenWrite(path))
        {
            file.SetLength(file.Length / 2);
        }

        AssertFault(HistoryFault.Damaged, path, create: true);
    }

    [Fact]
    public void A_history_without_its_tables_is_reported_as_damaged()
    {
        string path = _folder.File("history.db");
        Make.NewHistory(path).Dispose();
        Sql.Run(path, "DROP TABLE diary_entry");

        using History history = History.Open(path, create: false);
        Pack pack = history.AddPack(Make.Details(), Make.Morning)!;

        Assert.Equal(HistoryFault.Damaged, Assert.Throws<HistoryException>(() => history.Load(pack)).Fault);
    }

    [Fact]
    public void An_unknown_word_in_a_column_is_reported_as_damage_not_as_a_bug()
    {
        string path = _folder.File("history.db");
        using History history = Make.NewHistory(path);
        history.AddPack(Make.Details(), Make.Morning);
        Sql.Run(path, "UPDATE pack SET chemistry = 'coal'");

        HistoryException error = Assert.Throws<HistoryException>(history.Packs);

        Assert.Equal(HistoryFault.Damaged, error.Fault);
        Assert.Contains("'coal'", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Opening_and_reading_leaves_the_file_as_it_was()
    {
        string path = _folder.File("history.db");
        Pack pack = Fill(path);
        byte[] before = File.ReadAllBytes(path);

        using (History history = History.Open(path, create: false))
        {
            history.Load(pack);
            history.Unassigned();
            history.FindFile(Make.File().Sha256);
        }

        Assert.Equal(before, File.ReadAllBytes(path));
        Assert.Equal([path], Directory.GetFiles(_folder.Path));
    }

    [Theory]
    [InlineData("a#b?c%20d&e=f.db")]
    [InlineData("Größe 測試 ;'\".db")]
    [InlineData("file:odd.db")]
    public void Odd_file_names_are_only_names(string name)
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Windows does not allow such names.");
        string path = _folder.File(name);
        Pack pack = Fill(path);

        using History history = History.Open(path, create: false);

        Assert.Equal(pack, Assert.Single(history.Packs()));
        Assert.Equal(Path.GetFileName(path), Path.GetFileName(Directory.GetFiles(_folder.Path).MinBy(file => file.Length)));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_history_in_a_read_only_folder_can_be_read_and_not_changed(bool fileToo)
    {
        Assert.SkipUnless(Rights.Bind, "Rights do not bind this user.");
        string path = _folder.File("history.db");
        Pack pack = Fill(path);
        if (fileToo)
        {
            Rights.TakeWriting(path);
        }

        Rights.TakeWriting(_folder.Path);
        try
        {
            using History history = History.Open(path, create: true);

            Assert.True(history.ReadOnly);
            Assert.Single(history.Load(pack).Sessions);
            Assert.Equal(HistoryFault.NotWritable, Assert.Throws<HistoryException>(() => history.AddEntry(pack.Id, Make.Entry())).Fault);
            AssertFault(HistoryFault.NotWritable, _folder.File("another.db"), create: true);
        }
        finally
        {
            Rights.GiveWriting(_folder.Path);
        }
    }

    [Fact]
    public void A_read_only_file_in_an_open_folder_can_be_read_and_not_changed()
    {
        Assert.SkipUnless(Rights.Bind, "Rights do not bind this user.");
        string path = _folder.File("history.db");
        Pack pack = Fill(path);
        Rights.TakeWriting(path);

        using History history = History.Open(path, create: false);

        Assert.True(history.ReadOnly);
        Assert.Single(history.Load(pack).Sessions);
        Assert.Equal(HistoryFault.NotWritable, Assert.Throws<HistoryException>(() => history.AddEntry(pack.Id, Make.Entry())).Fault);
    }

    [Fact]
    public void A_history_that_was_left_open_in_a_read_only_folder_is_not_read_without_its_last_entries()
    {
        Assert.SkipUnless(Rights.Bind, "Rights do not bind this user.");
        string path = _folder.File("history.db");
        Fill(path);
        string left = _folder.File("left/history.db");
        Directory.CreateDirectory(_folder.File("left"));
        using (History history = History.Open(path, create: false))
        {
            history.AddPack(Make.Details("the last"), Make.Morning);
            File.Copy(path, left);
            File.Copy(path + "-wal", left + "-wal");
        }

        Rights.TakeWriting(_folder.File("left"));
        try
        {
            using History history = History.Open(left, create: false);
            Assert.NotNull(history.FindPack("the last"));
        }
        catch (HistoryException error)
        {
            Assert.Equal(HistoryFault.NotWritable, error.Fault);
        }
        finally
        {
            Rights.GiveWriting(_folder.File("left"));
        }
    }

    private static Pack Fill(string path)
    {
        using History history = Make.NewHistory(path);
        Pack pack = history.AddPack(Make.Details(), Make.Morning)!;
        history.AddFile(Make.File(), [new NewSession(pack.Id, Make.Log(), Make.Summary())]);
        return pack;
    }

    private static HistoryException AssertFault(HistoryFault fault, string path, bool create = false)
    {
        HistoryException error = Assert.Throws<HistoryException>(() => History.Open(path, create).Dispose());
        Assert.Equal(fault, error.Fault);
        Assert.Contains(path, error.Message, StringComparison.Ordinal);
        Assert.EndsWith(".", error.Message, StringComparison.Ordinal);
        return error;
    }

    private void AssertRefusedUntouched(HistoryFault fault, string path, byte[] bytes)
    {
        File.WriteAllBytes(path, bytes);
        byte[] before = SHA256.HashData(bytes);

        AssertFault(fault, path);
        AssertFault(fault, path, create: true);

        Assert.Equal(before, SHA256.HashData(File.ReadAllBytes(path)));
        Assert.Equal([path], Directory.GetFiles(_folder.Path));
    }
}
