using System.Text.Json;
using PackCare.Cli.Tests.Running;

namespace PackCare.Cli.Tests;

/// <summary>Commands that look after the history file, through the real executable.</summary>
public sealed class HistoryCareTests : IDisposable
{
    private readonly Bench _bench = new();

    public HistoryCareTests()
    {
        _bench.Run("add", "Teal", "--cells", "3").Expect(0);
        _bench.Run("import", _bench.Write("teal_2026-10-01T1000.csv", PlainLog.Charge(3, seed: 3))).Expect(0);
    }

    public void Dispose() => _bench.Dispose();

    [Fact]
    public void A_backup_is_restored_to_the_same_answers_and_what_it_replaces_is_kept()
    {
        string before = Show();
        string copy = Path.Combine(_bench.Folder, "copy.db");
        _bench.Run("backup", copy).Expect(0);
        _bench.Run("log", "Teal", "inspection", "--swollen").Expect(0);

        Assert.Contains("--replace", _bench.Run("restore", copy).Expect(1).Error, StringComparison.Ordinal);
        string? aside = _bench.Run("restore", copy, "--replace", "--json").Expect(0).Json().GetProperty("keptAside").GetString();

        Assert.True(File.Exists(aside));
        Assert.Equal(before, Show());
    }

    [Fact]
    public void An_export_is_taken_in_to_the_same_answers_and_the_same_bytes()
    {
        string first = Path.Combine(_bench.Folder, "first");
        string second = Path.Combine(_bench.Folder, "second");
        string other = Path.Combine(_bench.Folder, "other.db");
        _bench.Run("export", first).Expect(0);
        Assert.Contains("name a new file", _bench.Run("import", first).Expect(1).Error, StringComparison.Ordinal);

        PackCareProcess.Run(_bench.Folder, null, "import", first, "--history", other).Expect(0);
        PackCareProcess.Run(_bench.Folder, null, "export", second, "--history", other).Expect(0);

        Assert.Equal(Bytes(first), Bytes(second));
        Assert.Equal(Show(), PackCareProcess.Run(_bench.Folder, null, "show", "Teal", "--json", "--history", other, "--now", "2026-11-01T12:00Z").Expect(0).Out);
    }

    [Fact]
    public void Undo_takes_back_the_last_entry_and_then_the_import_and_redo_puts_them_back()
    {
        string before = Show();
        _bench.Run("check", "Teal", "3.80", "3.80", "3.80").Expect(0);

        Assert.Contains("a spot check of Teal", _bench.Run("undo").Expect(0).Out, StringComparison.Ordinal);
        Assert.Equal(before, Show());
        Assert.Contains("the import of teal_2026-10-01T1000.csv", _bench.Run("undo").Expect(0).Out, StringComparison.Ordinal);
        Assert.Equal(0, JsonDocument.Parse(Show()).RootElement.GetProperty("usage").GetProperty("sessions").GetInt32());
        _bench.Run("undo", "--redo").Expect(0);
        Assert.Equal(before, Show());
    }

    [Fact]
    public void Compact_gives_up_what_was_taken_back()
    {
        _bench.Run("undo").Expect(0);
        _bench.Run("compact").Expect(0);

        Assert.Contains("nothing was taken back", _bench.Run("undo", "--redo").Expect(1).Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Doctor_finds_nothing_in_a_healthy_file_and_names_damage_in_another()
    {
        Assert.Contains("Nothing is wrong", _bench.Run("doctor").Expect(0).Out, StringComparison.Ordinal);

        SqliteRows.Read(_bench.History, "update sample_block set encoded = zeroblob(40) where kind = 2 and idx = 1 returning 'done'");
        Assert.Contains("block", _bench.Run("doctor").Expect(1).Error, StringComparison.Ordinal);
        JsonElement repaired = _bench.Run("doctor", "--repair", "--json").Expect(0).Json();
        Assert.NotEmpty(repaired.GetProperty("repaired").EnumerateArray());
        Assert.True(File.Exists(repaired.GetProperty("keptAside").GetString()));
        _bench.Run("show", "Teal").Expect(0);
    }

    [Fact]
    public void Why_explains_the_standing_in_sentences()
    {
        Assert.StartsWith("Teal stands at", _bench.Run("why", "Teal", "--json").Expect(0).Json().GetProperty("reasons")[0].GetString(), StringComparison.Ordinal);
        Assert.Contains("Teal stands at", _bench.Run("why", "Teal").Expect(0).Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Own_limits_beside_the_history_are_used_and_a_mistyped_one_is_named()
    {
        _bench.Run("check", "Teal", "3.80", "3.80", "3.79").Expect(0);
        string limits = _bench.Write("limits.json", """{ "limits": { "check-overdue-days": 1 } }""");
        string due = PackCareProcess.Run(_bench.Folder, null, "due", "--json", "--history", _bench.History, "--now", "2026-12-01T12:00Z").Expect(0).Out;
        Assert.Contains("check-overdue", due, StringComparison.Ordinal);

        File.WriteAllText(limits, """{ "limits": { "check-overdue-weeks": 1 } }""");
        Assert.Contains("check-overdue-weeks", _bench.Run("due").Expect(2).Error, StringComparison.Ordinal);
    }

    private static IEnumerable<string> Bytes(string folder) =>
        Directory.GetFiles(folder, "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal)
            .Select(file => Path.GetRelativePath(folder, file) + " " + Convert.ToHexString(File.ReadAllBytes(file)));

    private string Show() => _bench.Run("show", "Teal", "--json").Expect(0).Out;
}
