using System.Text.Json;
using PackCare.Cli.Tests.Running;

namespace PackCare.Cli.Tests;

/// <summary>
/// From the logs alone, the due list names every story that was invented for the demo, and blames no healthy
/// pack. This shows that the judgement finds what was put in; it proves nothing about real packs.
/// </summary>
public sealed class DemoTests(DemoFixture demo)
{
    [Theory]
    [InlineData("Kingfisher", "self-discharge", 2)]
    [InlineData("Moorhen", "full-spell", null)]
    [InlineData("Osprey", "resistance", 4)]
    [InlineData("Grebe", "capacity", null)]
    [InlineData("Coot", "never-balanced", null)]
    [InlineData("Dipper", "low-cell", 1)]
    [InlineData("Bittern", "lead-resistance", null)]
    [InlineData("Wagtail", "swollen", null)]
    [InlineData("Teal", "full-spell", null)]
    [InlineData("Sandpiper", "too-little-data", null)]
    public void The_story_of_each_pack_is_found(string label, string code, int? cell)
    {
        JsonElement[] findings = [.. Findings(label)];

        JsonElement finding = Assert.Single(findings, one => one.GetProperty("code").GetString() == code && (cell is null || Cell(one) == cell));
        Assert.NotEmpty(finding.GetProperty("text").GetString()!);
        Assert.NotEmpty(finding.GetProperty("action").GetString()!);
    }

    [Theory]
    [InlineData("Kingfisher")]
    [InlineData("Osprey")]
    [InlineData("Grebe")]
    [InlineData("Coot")]
    [InlineData("Dipper")]
    [InlineData("Bittern")]
    [InlineData("Wagtail")]
    [InlineData("Teal")]
    [InlineData("Moorhen")]
    public void Each_of_them_is_on_the_due_list(string label) =>
        Assert.Contains(demo.Run("due", "--json").Expect(0).JsonLines(), item => item.GetProperty("pack").GetString() == label);

    [Theory]
    [InlineData("Heron")]
    [InlineData("Egret")]
    [InlineData("Curlew")]
    public void A_healthy_pack_is_blamed_for_nothing(string label)
    {
        Assert.Equal("sound", Show(label).GetProperty("standing").GetProperty("level").GetString());
        Assert.DoesNotContain(demo.Run("due", "--json").Expect(0).JsonLines(), item => item.GetProperty("pack").GetString() == label);
    }

    [Fact]
    public void No_pack_is_blamed_for_what_is_not_its_story()
    {
        var expected = new Dictionary<string, string[]>
        {
            ["Heron"] = [],
            ["Egret"] = [],
            ["Curlew"] = [],
            ["Kingfisher"] = ["self-discharge", "rest-spread", "charge-offset"],
            ["Moorhen"] = ["full-spell"],
            ["Osprey"] = ["resistance"],
            ["Grebe"] = ["capacity"],
            ["Coot"] = ["never-balanced", "rest-spread", "charge-offset"],
            ["Dipper"] = ["low-cell", "rest-spread", "charge-offset", "resistance", "capacity", "capacity-mismatch"],
            ["Bittern"] = ["lead-resistance"],
            ["Wagtail"] = ["swollen"],
            ["Teal"] = ["full-spell"],
            ["Sandpiper"] = [],
        };
        foreach (string label in demo.Labels)
        {
            string[] blamed = [.. Findings(label)
                .Where(one => one.GetProperty("level").GetString() != "note")
                .Select(one => one.GetProperty("code").GetString()!)
                .Distinct()];
            Assert.True(blamed.All(expected[label].Contains), $"{label} is blamed for {string.Join(", ", blamed.Except(expected[label]))}.");
        }
    }

    [Fact]
    public void The_drifting_cell_of_the_leaking_pack_has_its_cause_named() =>
        Assert.Equal("self-discharge", Show("Kingfisher").GetProperty("imbalance").GetProperty("cause").GetString());

    [Fact]
    public void Every_sample_log_is_read_and_its_lines_add_up()
    {
        DirectoryInfo folder = Directory.CreateTempSubdirectory("packcare-again-");
        try
        {
            string history = Path.Combine(folder.FullName, "history.db");
            IReadOnlyList<JsonElement> files = PackCareProcess.Run(Repository.Root, null, "import", Repository.SampleLogs, "--zone", "UTC", "--json", "--history", history).Expect(0).JsonLines();

            Assert.True(files.Count > 100);
            Assert.All(files, file =>
            {
                JsonElement ledger = file.GetProperty("ledger");
                Assert.Equal(ledger.GetProperty("lines").GetInt32(), ledger.EnumerateObject().Where(part => part.Name != "lines").Sum(part => part.Value.GetInt32()));
            });
            Assert.True(files.Select(file => Reading(file).ToString()).Distinct().Count() >= 6, "The sample logs come in fewer than six layouts.");
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Fact]
    public void Importing_all_sample_logs_again_changes_nothing()
    {
        byte[] before = File.ReadAllBytes(demo.History);

        IReadOnlyList<JsonElement> files = demo.Run("import", Repository.SampleLogs, "--json").Expect(0).JsonLines();

        Assert.All(files, file => Assert.Equal("already-imported", file.GetProperty("status").GetString()));
        Assert.Equal(before, File.ReadAllBytes(demo.History));
    }

    [Fact]
    public void It_says_that_its_data_are_invented_and_names_no_pack_safe()
    {
        Assert.Contains("nvented", demo.Demo.Out, StringComparison.Ordinal);
        foreach (string page in Directory.GetFiles(demo.Report, "*.html"))
        {
            string text = File.ReadAllText(page);
            Assert.Contains("nvented", text, StringComparison.Ordinal);
            Assert.DoesNotContain("is safe", text, StringComparison.OrdinalIgnoreCase);
        }
    }

    [Theory]
    [InlineData(80)]
    [InlineData(120)]
    public void Screens_fit_their_width(int columns)
    {
        var environment = new Dictionary<string, string?> { ["COLUMNS"] = columns.ToString(System.Globalization.CultureInfo.InvariantCulture) };
        foreach (string[] command in new[] { ["due"], ["list"], new[] { "show", "Kingfisher" } })
        {
            string text = PackCareProcess.Run(Repository.Root, environment, [.. command, "--history", demo.History, "--now", demo.Now]).Expect(0).Out;
            Assert.All(text.Split('\n'), line => Assert.True(line.Length <= columns, line));
        }
    }

    private static int? Cell(JsonElement finding) =>
        finding.GetProperty("cell").ValueKind == JsonValueKind.Null ? null : finding.GetProperty("cell").GetInt32();

    private static (string?, string?, string?, int) Reading(JsonElement file)
    {
        JsonElement reading = file.GetProperty("reading");
        return (
            reading.GetProperty("delimiter").GetString(),
            reading.GetProperty("decimal").GetString(),
            reading.GetProperty("timeBase").GetString(),
            string.Join(' ', reading.GetProperty("columns").EnumerateArray().Select(column => column.GetProperty("meaning").GetString() + column.GetProperty("unit"))).GetHashCode(StringComparison.Ordinal));
    }

    private JsonElement Show(string label) => demo.Run("show", label, "--json").Expect(0).Json();

    private IEnumerable<JsonElement> Findings(string label) => Show(label).GetProperty("standing").GetProperty("findings").EnumerateArray();
}
