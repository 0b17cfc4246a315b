using PackCare.Core.Samples;

namespace PackCare.Store.Tests;

/// <summary>docs/history.md says what a reader with other tools finds; these checks keep it true.</summary>
public sealed class DocumentedLayoutTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    private static string Document { get; } = File.ReadAllText(Path.Combine(Repository.Root, "docs", "history.md"));

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Every_table_is_described()
    {
        string path = _folder.File("history.db");
        Make.NewHistory(path).Dispose();

        string tables = (string)Sql.Ask(path, "SELECT group_concat(name) FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")!;

        Assert.All(tables.Split(','), table => Assert.Contains($"**{table}**", Document, StringComparison.Ordinal));
    }

    [Fact]
    public void Every_kind_of_channel_has_the_number_it_is_described_with() =>
        Assert.All(Enum.GetValues<ChannelKind>(), kind => Assert.Contains($"\n| {(int)kind} | ", Document, StringComparison.Ordinal));

    [Fact]
    public void The_example_query_runs_and_finds_the_spread()
    {
        string path = _folder.File("history.db");
        using History history = Make.NewHistory(path);
        long pack = history.AddPack(Make.Details("Otter 1"), Make.Morning)!.Id;
        history.AddFile(Make.File(), [new NewSession(pack, Make.Log(), Make.Summary(cells: 1) with { Cells = [Make.Cell(1), Make.Cell(3) with { EndRestVolts = 4.079 }] })]);
        string query = Document.Split("```sql")[1].Split("```")[0].Replace("s.started_utc, m.kind, ", "", StringComparison.Ordinal);

        Assert.Equal(11.0, Sql.Ask(path, query));
    }
}
