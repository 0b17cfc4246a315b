using Microsoft.Data.Sqlite;
using PackCare.Core.Packs;
using PackCare.Core.Samples;

namespace PackCare.Store.Tests;

public sealed class DoctorTests : IDisposable
{
    private static readonly DateTimeOffset Now = new(2025, 6, 1, 12, 0, 0, TimeSpan.FromHours(2));

    private readonly TemporaryFolder _folder = new();
    private readonly string _path;

    public DoctorTests()
    {
        _path = _folder.File("history.db");
        BackupTests.Filled(_path).Dispose();
    }

    /// <summary>A history whose larger tables take more than one page each; made once, since each import waits for the disk.</summary>
    private static Lazy<byte[]> ManyLogs { get; } = new(() =>
    {
        using var folder = new TemporaryFolder();
        string path = folder.File("many.db");
        using (History history = BackupTests.Filled(path))
        {
            for (int i = 0; i < 80; i++)
            {
                history.AddFile(Make.File($"log {i}"), [new NewSession(1, Make.Log(Make.Morning.AddDays(i), rows: 200, seed: i), Make.Summary())]);
            }
        }

        return File.ReadAllBytes(path);
    });

    public static TheoryData<string, ComplaintKind> OrphaningDamage => new()
    {
        { "DELETE FROM pack WHERE label = 'Wren'", ComplaintKind.Reference },
        { "DELETE FROM session WHERE id = 1", ComplaintKind.Reference },
        { "DELETE FROM file WHERE name = 'one.csv'", ComplaintKind.Reference },
        { "DELETE FROM session_summary WHERE session_id = 2", ComplaintKind.Summary },
        { "DELETE FROM session_summary WHERE session_id = 1", ComplaintKind.Reference },
        { "DELETE FROM spot_check WHERE id = 1", ComplaintKind.Reference },
        { "UPDATE sample_block SET encoded = zeroblob(20) WHERE session_id = 1 AND kind = 2 AND idx = 2", ComplaintKind.Block },
        { "DELETE FROM sample_block WHERE session_id = 1 AND kind = 2 AND idx = 1", ComplaintKind.Block },
        { "UPDATE sample_block SET count = 17 WHERE session_id = 3 AND kind = 3", ComplaintKind.Block },
    };

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_sound_history_is_sound_and_left_alone()
    {
        byte[] before = File.ReadAllBytes(_path);

        HealthReport report = HistoryFile.Examine(_path);
        HealthReport repaired = HistoryFile.Repair(_path, Now);

        Assert.True(report.Sound);
        Assert.Equal((2, 3, 19), (report.Packs, report.Sessions, report.Blocks));
        Assert.Empty(repaired.Repaired);
        Assert.Null(repaired.KeptAside);
        Assert.Equal(before, File.ReadAllBytes(_path));
        Assert.Equal([_path], Directory.GetFiles(_folder.Path));
    }

    [Theory]
    [MemberData(nameof(OrphaningDamage))]
    public void Damage_among_the_rows_is_found_and_put_right_without_losing_a_readable_sample(string damage, ComplaintKind kind)
    {
        Dictionary<string, int> readable = ReadableBlocks();
        Sql.Run(_path, damage);
        Dictionary<string, int> left = ReadableBlocks();
        byte[] asItWas = File.ReadAllBytes(_path);

        HealthReport found = HistoryFile.Examine(_path);

        Assert.Contains(found.Complaints, complaint => complaint.Kind == kind);
        Assert.Equal(asItWas, File.ReadAllBytes(_path));

        HealthReport repaired = HistoryFile.Repair(_path, Now);

        Assert.All(repaired.Complaints, complaint => Assert.Equal(ComplaintKind.Summary, complaint.Kind));
        Assert.Equal(repaired.Complaints.Count, repaired.SessionsToSummarise.Count);
        Assert.True(File.Exists(repaired.KeptAside));
        Dictionary<string, int> after = ReadableBlocks();
        Assert.All(left, block => Assert.True(after.GetValueOrDefault(block.Key) >= block.Value, $"{block.Key} is lost."));
        Assert.True(left.Values.Sum() <= readable.Values.Sum());

        using (History history = History.Open(_path, create: false))
        {
            history.ReplaceSummaries(repaired.SessionsToSummarise.Select(id => (id, Make.Summary())));
            Assert.All(history.SessionIds(), id => Assert.True(history.LoadSamples(id).Count > 0));
            Assert.Equal(3, history.SessionIds().Count);
            history.LoadAll();
        }

        Assert.True(HistoryFile.Examine(_path).Sound);
    }

    [Fact]
    public void The_readings_of_a_damaged_block_become_missing_and_its_bytes_are_kept()
    {
        Sql.Run(_path, "UPDATE sample_block SET encoded = x'0102030405' WHERE session_id = 1 AND kind = 2 AND idx = 2");

        HistoryFile.Repair(_path, Now);

        using History history = History.Open(_path, create: false);
        SampleSeries samples = history.LoadSamples(1);
        Assert.All(samples.Values(ChannelKey.Cell(2))!, value => Assert.True(double.IsNaN(value)));
        Assert.Equal(Make.Log().Samples.Values(ChannelKey.Cell(1)), samples.Values(ChannelKey.Cell(1)));
        Assert.Equal(Make.Log().Samples.TimeSeconds(), samples.TimeSeconds());
        Assert.Equal(new byte[] { 1, 2, 3, 4, 5 }, Sql.Ask(_path, "SELECT encoded FROM damaged_block"));
        Make.AssertSame(Make.Summary(), history.FindSession(1)!.Summary);
    }

    [Fact]
    public void A_pack_that_is_lost_gets_a_stand_in_and_its_sessions_wait_to_be_assigned()
    {
        Sql.Run(_path, "DELETE FROM pack WHERE label = 'Wren'");

        HistoryFile.Repair(_path, Now);

        using History history = History.Open(_path, create: false);
        Assert.Contains(history.Unassigned(), session => session.Session.Id == 3);
        Pack standIn = history.FindPack("recovered 2")!;
        Assert.Single(history.Load(standIn).Entries);
        Assert.Equal("weak", standIn.Retirement!.Reason);
    }

    [Fact]
    public void Lost_times_cannot_be_repaired_and_this_is_said()
    {
        Sql.Run(_path, "UPDATE sample_block SET encoded = zeroblob(9) WHERE session_id = 1 AND kind = 0");

        HealthReport report = HistoryFile.Repair(_path, Now);

        Assert.Equal(ComplaintKind.Time, Assert.Single(report.Complaints).Kind);
        Assert.Contains("session 1", report.Complaints[0].Text, StringComparison.Ordinal);
        using History history = History.Open(_path, create: false);
        Make.AssertSame(Make.Log(Make.Morning.AddDays(1), cells: 4, seed: 2).Samples, history.LoadSamples(3));
    }

    [Fact]
    public void What_no_version_wrote_is_named()
    {
        Sql.Run(_path, "UPDATE session SET time_quality = 'guessed' WHERE id = 3");

        Complaint complaint = Assert.Single(HistoryFile.Examine(_path).Complaints);

        Assert.Equal(ComplaintKind.Content, complaint.Kind);
        Assert.Contains("'guessed'", complaint.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_damaged_index_page_is_found_and_the_rebuilt_history_has_lost_nothing()
    {
        string before = State();
        BackupTests.Break(_path);
        Assert.Contains(HistoryFile.Examine(_path).Complaints, complaint => complaint.Kind == ComplaintKind.Pages);

        HealthReport report = HistoryFile.Repair(_path, Now);

        Assert.True(report.Sound, string.Join('\n', report.Complaints));
        Assert.Equal(before, State());
        Assert.Equal("history.db.damaged-20250601T100000Z", Path.GetFileName(report.KeptAside));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void Of_a_history_with_a_damaged_page_everything_on_the_other_pages_is_saved(int seed)
    {
        File.WriteAllBytes(_path, ManyLogs.Value);
        Dictionary<string, int> before = ReadableBlocks();
        var random = new Random(seed);
        long pages = new FileInfo(_path).Length / 4096;
        long page = 1 + random.NextInt64(pages - 1);
        using (FileStream file = new(_path, FileMode.Open, FileAccess.ReadWrite))
        {
            var noise = new byte[4096];
            random.NextBytes(noise);
            file.Position = page * 4096;
            file.Write(noise);
        }

        HealthReport report = HistoryFile.Repair(_path, Now);

        Assert.True(File.Exists(report.KeptAside) || report.Sound);
        Dictionary<string, int> after = ReadableBlocks();
        int lost = before.Sum(block => Math.Max(0, block.Value - after.GetValueOrDefault(block.Key)));
        Assert.True(lost <= 40, $"{lost} of {before.Values.Sum()} blocks are lost to one page of {pages}: {string.Join('\n', report.Complaints)}");
        Assert.DoesNotContain(HistoryFile.Examine(_path).Complaints, complaint => complaint.Kind is ComplaintKind.Pages or ComplaintKind.Reference);
    }

    [Theory]
    [InlineData("sample_block")]
    [InlineData("session")]
    [InlineData("file")]
    public void Rows_that_no_page_leads_to_any_more_are_found_all_the_same(string table)
    {
        File.WriteAllBytes(_path, ManyLogs.Value);
        string before = State();
        Dictionary<string, int> blocks = ReadableBlocks();
        BackupTests.Break(_path, table);

        HealthReport report = HistoryFile.Repair(_path, Now);

        Assert.NotEmpty(report.Repaired);
        Assert.Equal(blocks, ReadableBlocks());
        Assert.Equal(before, State());
        Assert.True(HistoryFile.Examine(_path).Sound);
        Assert.Equal(2, Directory.GetFiles(_folder.Path).Length);
    }

    [Fact]
    public void Of_a_history_that_was_cut_off_what_is_left_is_saved()
    {
        File.WriteAllBytes(_path, ManyLogs.Value);
        using (FileStream file = new(_path, FileMode.Open, FileAccess.ReadWrite))
        {
            file.SetLength(file.Length * 3 / 4 / 4096 * 4096);
        }

        Assert.False(HistoryFile.Examine(_path).Sound);
        HealthReport report = HistoryFile.Repair(_path, Now);

        Assert.NotEmpty(report.Repaired);
        using History saved = History.Open(_path, create: false);
        Assert.Equal(2, saved.Packs().Count);
        Assert.True(saved.SessionIds().Count >= 20, $"{saved.SessionIds().Count} sessions are left.");
        Assert.True(File.Exists(report.KeptAside));
    }

    [Fact]
    public void A_history_in_use_is_not_rebuilt()
    {
        using History user = History.Open(_path, create: false);
        user.AddPack(Make.Details("in use"), Make.Morning);
        BackupTests.Break(_path);
        Sql.Run(_path, "SELECT 1");

        HistoryException error = Assert.Throws<HistoryException>(() => HistoryFile.Repair(_path, Now));

        Assert.Equal(HistoryFault.Locked, error.Fault);
        Assert.DoesNotContain(Directory.GetFiles(_folder.Path), file => file.EndsWith(".part", StringComparison.Ordinal));
    }

    [Fact]
    public void What_is_no_history_is_not_examined()
    {
        File.WriteAllText(_folder.File("text.db"), "dear diary");

        Assert.Equal(HistoryFault.NotAHistory, Assert.Throws<HistoryException>(() => HistoryFile.Repair(_folder.File("text.db"), Now)).Fault);
        Assert.Equal(HistoryFault.Missing, Assert.Throws<HistoryException>(() => HistoryFile.Examine(_folder.File("none.db"))).Fault);
    }

    private string State()
    {
        using History history = History.Open(_path, create: false);
        return Make.Text(new { Packs = history.LoadAll(), Files = history.Files(), Unassigned = history.Unassigned(), Last = history.LastChange() });
    }

    /// <summary>The contents of all blocks that decode, wherever they are kept.</summary>
    private Dictionary<string, int> ReadableBlocks()
    {
        Dictionary<string, int> found = [];
        using var connection = new SqliteConnection($"Data Source={_path};Pooling=False;Mode=ReadOnly");
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "SELECT encoded, count FROM sample_block NOT INDEXED UNION ALL SELECT encoded, count FROM damaged_block NOT INDEXED";
        using SqliteDataReader row = command.ExecuteReader();
        while (row.Read())
        {
            string bytes = Convert.ToHexString(row.GetFieldValue<byte[]>(0));
            found[bytes] = found.GetValueOrDefault(bytes) + 1;
        }

        return found;
    }
}
