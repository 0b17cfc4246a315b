using PackCare.Cli.Tests.Running;

namespace PackCare.Cli.Tests;

/// <summary>Wrong input gets one clear sentence and an exit code, and leaves the history as it was.</summary>
public sealed class WrongInputTests : IDisposable
{
    private readonly Bench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Fact]
    public void A_missing_file() => Refused(Path.Combine(_bench.Folder, "nowhere.csv"), "no such file");

    [Fact]
    public void An_empty_file() => Refused(_bench.Write("empty.csv", string.Empty), "empty");

    [Fact]
    public void A_file_of_blank_lines() => Refused(_bench.Write("blank.csv", "\n\n  \n"), null);

    [Fact]
    public void A_header_without_a_row() => Refused(_bench.Write("header.csv", "time_s,current_a,pack_v,cell1_v,cell2_v,charge_ah,temp_c\n"), null);

    [Fact]
    public void Random_bytes()
    {
        byte[] bytes = new byte[4096];
        new Random(7).NextBytes(bytes);
        Refused(_bench.Write("noise.csv", bytes), null);
    }

    [Fact]
    public void An_empty_folder() => Refused(Directory.CreateDirectory(Path.Combine(_bench.Folder, "hollow")).FullName, "no log");

    [Fact]
    public void A_letter() => Refused(_bench.Write("letter.csv", "Dear team,\nthe boats are back, all of them.\nYours, the bench\n"), null);

    [Fact]
    public void A_file_of_the_system_that_is_no_plain_file()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "needs a file without a length, which only Linux offers to every user");
        Refused("/proc/self/mem", "no plain file");
    }

    [Fact]
    public void Another_cell_count_than_the_named_pack_has()
    {
        _bench.Run("add", "Teal", "--cells", "3").Expect(0);
        Refused(_bench.Write("four.csv", PlainLog.Charge(4, seed: 1)), "4 cells and Teal has 3", "--pack", "Teal");
    }

    [Fact]
    public void A_pack_that_is_not_on_record()
    {
        _bench.Run("add", "Teal", "--cells", "3").Expect(0);
        Outcome outcome = _bench.Run("import", _bench.Write("four.csv", PlainLog.Charge(4, seed: 1)), "--pack", "Nobody").Expect(2);
        Assert.Contains("'Nobody'", outcome.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void One_bad_file_among_good_ones_is_named_and_the_rest_is_done()
    {
        string good = _bench.Write("good_2026-10-01T1000.csv", PlainLog.Charge(3, seed: 1));
        string bad = _bench.Write("bad.csv", "nothing of use\n");

        Outcome outcome = _bench.Run("import", good, bad).Expect(1);

        Assert.Contains("Imported 1 file ", outcome.Out, StringComparison.Ordinal);
        Assert.StartsWith(bad, outcome.Error.Split('\n').Single(line => line.Contains("bad.csv", StringComparison.Ordinal)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_history_that_is_something_else_is_left_alone()
    {
        byte[] other = [.. "this is a diary, not a history"u8];
        string path = _bench.Write("history.db", other);

        Outcome outcome = _bench.Run("list").Expect(3);

        Assert.Single(outcome.Error.TrimEnd().Split('\n'));
        Assert.Equal(other, File.ReadAllBytes(path));
    }

    [Fact]
    public void No_history_yet_says_how_to_begin() =>
        Assert.Single(_bench.Run("list").Expect(3).Error.TrimEnd().Split('\n'));

    private void Refused(string path, string? because, params string[] options)
    {
        Outcome outcome = _bench.Run(["import", path, .. options]).Expect(1);

        string sentence = Assert.Single(outcome.Error.TrimEnd().Split('\n'));
        Assert.StartsWith(path, sentence, StringComparison.Ordinal);
        Assert.Contains("; ", sentence, StringComparison.Ordinal);
        if (because is not null)
        {
            Assert.Contains(because, sentence, StringComparison.Ordinal);
        }
    }
}
