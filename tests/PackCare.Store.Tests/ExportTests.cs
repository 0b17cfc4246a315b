using System.Diagnostics;
using System.Text;
using CsCheck;
using PackCare.Core.Packs;
using PackCare.Core.Samples;
using PackCare.Store.Exchange;

namespace PackCare.Store.Tests;

public sealed class ExportTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();
    private readonly string _path;
    private readonly string _out;

    public ExportTests()
    {
        _path = _folder.File("history.db");
        _out = _folder.File("out");
    }

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void An_export_taken_in_again_is_the_same_history_and_exports_to_the_same_bytes()
    {
        using History history = BackupTests.Filled(_path);
        history.AddFile(Make.File("long"), [new NewSession(1, Make.Log(Make.Morning.AddDays(9), rows: Channel.BlockRows + 5), Make.Summary(salt: 2))]);
        history.AddPack(Make.Details("Größe \"5\", 測試 🔋"), Make.Morning);
        history.Retire(1, new Retirement(Make.Morning, "first"));
        history.Retire(1, new Retirement(Make.Morning, "second"));
        history.AddEntry(1, Make.Entry());
        history.Undo();
        history.KeepGuide(new StoredGuide("Bay \"4\"", """{ "guide": 1 }"""));

        ExportReport report = HistoryFile.Export(history, _out);
        HistoryFile.Import(_out, _folder.File("again.db"));
        using History again = History.Open(_folder.File("again.db"), create: false);
        HistoryFile.Export(again, _folder.File("out2"));

        Assert.Equal((3, 4, 0), (report.Packs, report.Sessions, report.SessionsLeftOut.Count));
        Assert.Equal(Files(_out), Files(_folder.File("out2")));
        Make.AssertSame(history.LoadAll(), again.LoadAll());
        Make.AssertSame(history.Files(), again.Files());
        Make.AssertSame(history.Unassigned(), again.Unassigned());
        Assert.Equal(history.Guides(), again.Guides());
        Assert.All(history.Files(), file => Make.AssertSame(history.LoadFile(file.Sha256)!, again.LoadFile(file.Sha256)!));
        Assert.All(history.SessionIds(), id => Make.AssertSame(history.LoadSamples(id), again.LoadSamples(id)));
        Assert.True(HistoryFile.Examine(_folder.File("again.db")).Sound);
        Assert.Null(again.LastChange());
    }

    [Fact]
    public void The_same_history_always_gives_the_same_bytes()
    {
        using History history = BackupTests.Filled(_path);
        HistoryFile.Export(history, _out);
        history.Compact();
        HistoryFile.Export(history, _folder.File("out2"));

        Assert.Equal(Files(_out), Files(_folder.File("out2")));
    }

    [Fact]
    public void Samples_of_any_digits_go_through_text_and_back() =>
        Gen.Select(Gen.Int[0, 9], Gen.Int[-999_999, 999_999], Gen.Bool).Array[1, 60].Sample(readings =>
        {
            var time = new ChannelWriter(ChannelKey.Time);
            var temperature = new ChannelWriter(ChannelKey.Temperature(2));
            for (int i = 0; i < readings.Length; i++)
            {
                (int decimals, int scaled, bool missing) = readings[i];
                time.TryAppend(i, 0);
                if (missing)
                {
                    temperature.AppendMissing();
                }
                else
                {
                    temperature.TryAppend(scaled, decimals);
                }
            }

            var samples = new SampleSeries([time.ToChannel(), temperature.ToChannel()]);
            var text = new StringWriter();
            SampleText.Write(text, samples);

            Make.AssertSame(samples, SampleText.Read(new StringReader(text.ToString())));
        });

    [Fact]
    public void Samples_are_written_in_the_plain_layout()
    {
        using History history = Make.NewHistory(_path);
        var time = new ChannelWriter(ChannelKey.Time);
        time.TryAppend(0, 0);
        time.TryAppend(5, 1);
        var cell = new ChannelWriter(ChannelKey.Cell(1));
        cell.TryAppend(3700, 3);
        cell.AppendMissing();
        history.AddFile(Make.File(), [new NewSession(null, Make.Log() with { Samples = new SampleSeries([cell.ToChannel(), time.ToChannel()]) }, Make.EmptySummary())]);

        HistoryFile.Export(history, _out);

        Assert.Equal("time_s,cell1_v\n0.0,3.700\n0.5,\n", File.ReadAllText(Path.Combine(_out, "samples", "0000", "0000001.csv")));
    }

    [Fact]
    public void Sha256sum_of_any_system_finds_the_export_whole()
    {
        Assert.SkipUnless(File.Exists("/usr/bin/sha256sum"), "There is no sha256sum here.");
        using History history = BackupTests.Filled(_path);
        HistoryFile.Export(history, _out);

        using Process check = Process.Start(new ProcessStartInfo("/usr/bin/sha256sum", ["--check", "--strict", "--quiet", "SHA256SUMS"]) { WorkingDirectory = _out })!;
        check.WaitForExit();

        Assert.Equal(0, check.ExitCode);
    }

    public static TheoryData<string, string> Harms => new()
    {
        { "a file that was changed", "is not as it was exported" },
        { "a file that is missing", "is missing" },
        { "no list", "SHA256SUMS" },
        { "a list that leads out of the folder", "names no file" },
    };

    [Theory]
    [MemberData(nameof(Harms))]
    public void An_export_that_is_not_as_it_was_written_is_not_taken_in(string harm, string reason)
    {
        using (History history = BackupTests.Filled(_path))
        {
            HistoryFile.Export(history, _out);
        }

        string list = Path.Combine(_out, "SHA256SUMS");
        switch (harm)
        {
            case "a file that was changed":
                File.AppendAllText(Path.Combine(_out, "samples", "0000", "0000002.csv"), "1,2\n");
                break;
            case "a file that is missing":
                File.Delete(Path.Combine(_out, "diary.jsonl"));
                break;
            case "no list":
                File.Delete(list);
                break;
            default:
                File.AppendAllText(list, $"{new string('0', 64)}  ../history.db\n");
                break;
        }

        AssertRefused(reason);
    }

    [Theory]
    [InlineData("packs.jsonl", "\"cells\":3", "\"cells\":99", "contradicts")]
    [InlineData("packs.jsonl", "\"cells\":3", "\"cells\":\"three\"", "packs.jsonl, line 1")]
    [InlineData("packs.jsonl", "\"cells\":3", "\"celsius\":3", "packs.jsonl, line 1")]
    [InlineData("sessions.jsonl", "\"packId\":1", "\"packId\":77", "contradicts")]
    [InlineData("samples/0000/0000001.csv", "time_s", "zeit_s", "0000001.csv, line 1")]
    [InlineData("samples/0000/0000001.csv", "\n0,", "\nx,", "0000001.csv, line 2, column 1")]
    [InlineData("export.json", "\"version\":1", "\"version\":2", "this version reads")]
    public void An_export_that_was_edited_must_still_make_sense(string name, string from, string to, string reason)
    {
        using (History history = BackupTests.Filled(_path))
        {
            HistoryFile.Export(history, _out);
        }

        string path = Path.Combine(_out, name);
        string before = File.ReadAllText(path);
        string after = before.Replace(from, to, StringComparison.Ordinal);
        Assert.NotEqual(before, after);
        File.WriteAllText(path, after);
        string list = Path.Combine(_out, "SHA256SUMS");
        File.WriteAllText(list, File.ReadAllText(list).Replace($"{Make.Sha(before)}  {name}", $"{Make.Sha(after)}  {name}", StringComparison.Ordinal));

        AssertRefused(reason);
    }

    [Fact]
    public void Nothing_that_is_there_is_overwritten()
    {
        using History history = BackupTests.Filled(_path);
        Directory.CreateDirectory(_out);
        HistoryFile.Export(history, _out);
        File.WriteAllText(Path.Combine(_folder.Path, "file"), "");

        Assert.Equal(HistoryFault.Conflict, Assert.Throws<HistoryException>(() => HistoryFile.Export(history, _out)).Fault);
        Assert.Equal(HistoryFault.Conflict, Assert.Throws<HistoryException>(() => HistoryFile.Export(history, _folder.File("file"))).Fault);
        Assert.Equal(HistoryFault.Conflict, Assert.Throws<HistoryException>(() => HistoryFile.Import(_out, _path)).Fault);
        Assert.Equal(HistoryFault.NotAHistory, Assert.Throws<HistoryException>(() => HistoryFile.Import(_folder.File("none"), _folder.File("new.db"))).Fault);
    }

    [Fact]
    public void A_session_whose_samples_are_damaged_is_left_out_and_named()
    {
        using History history = BackupTests.Filled(_path);
        Sql.Run(_path, "UPDATE sample_block SET encoded = zeroblob(9) WHERE session_id = 2 AND kind = 0");

        ExportReport report = HistoryFile.Export(history, _out);

        Assert.Equal([2], report.SessionsLeftOut);
        HistoryFile.Import(_out, _folder.File("again.db"));
        using History again = History.Open(_folder.File("again.db"), create: false);
        Assert.Equal([1, 3], again.SessionIds());
    }

    private void AssertRefused(string reason)
    {
        string target = _folder.File("again.db");

        HistoryException error = Assert.Throws<HistoryException>(() => HistoryFile.Import(_out, target));

        Assert.Equal(HistoryFault.NotAHistory, error.Fault);
        Assert.Contains(reason, error.Message, StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(_folder.Path, "again.db*"));
    }

    private static Dictionary<string, string> Files(string folder) => Directory
        .GetFiles(folder, "*", SearchOption.AllDirectories)
        .ToDictionary(path => Path.GetRelativePath(folder, path), path => Encoding.UTF8.GetString(File.ReadAllBytes(path)));
}
