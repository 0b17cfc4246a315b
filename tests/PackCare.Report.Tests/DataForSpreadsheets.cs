using System.Globalization;
using System.Text.Json;
using CsCheck;
using PackCare.Core.Samples;
using PackCare.Report.Data;
using PackCare.Report.Tests.Fixtures;

namespace PackCare.Report.Tests;

public class DataForSpreadsheets
{
    [Theory]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("+1", "'+1")]
    [InlineData("-1", "'-1")]
    [InlineData("@SUM(A1)", "'@SUM(A1)")]
    [InlineData("  =1", "\"'  =1\"")]
    [InlineData("\t=1", "\"'\t=1\"")]
    [InlineData("\uFF1D1", "'\uFF1D1")]
    [InlineData("a,\"b\"", "\"a,\"\"b\"\"\"")]
    [InlineData("plain", "plain")]
    public void Text_is_never_taken_for_a_formula(string text, string field) => Assert.Equal(field, CsvText.Field(text));

    [Fact]
    public void No_text_at_all_starts_a_formula() =>
        Gen.String.Sample(text =>
        {
            string field = CsvText.Field(text).TrimStart('"');
            return field.Length == 0 || !"=+-@\t\r\n".Contains(field[0], StringComparison.Ordinal);
        });

    [Fact]
    public void Figures_read_back_exactly_and_a_missing_one_is_empty()
    {
        Gen.Double.Where(double.IsFinite).Sample(value => double.Parse(CsvText.Field(value), CultureInfo.InvariantCulture) == value);
        Assert.Equal("", CsvText.Field(null));
        Assert.Equal("", CsvText.Field(double.NaN));
    }

    [Fact]
    public void Every_number_behind_every_chart_is_in_the_tables()
    {
        string folder = Directory.CreateTempSubdirectory("packcare-data-").FullName;
        try
        {
            ReportInput input = StoryTeller.Everything();
            IReadOnlyList<string> paths = ReportData.WriteCsv(input, folder);
            int Rows(string name) => File.ReadAllLines(Path.Combine(folder, name)).Length - 1;

            Assert.Equal(input.Packs.Count, Rows("packs.csv"));
            Assert.Equal(input.Due.Count, Rows("due.csv"));
            Assert.Equal(input.Packs.Sum(pack => pack.Assessment.Imbalance.Series.Sum(point => point.Millivolts.Count)), Rows("deviations.csv"));
            Assert.Equal(input.Packs.Sum(pack => pack.Assessment.Resistance.Series.Count), Rows("resistances.csv"));
            Assert.Equal(input.Packs.Sum(pack => pack.Assessment.Capacity.Series.Count), Rows("capacities.csv"));
            Assert.Equal(input.Packs.Sum(pack => pack.Assessment.Days.Count), Rows("days.csv"));
            Assert.Equal(input.Packs.Sum(pack => pack.Assessment.FullCharge.Spells.Count), Rows("full-spells.csv"));
            Assert.Equal(input.Packs.Sum(pack => 2 + pack.Assessment.Resistance.Cells.Count), Rows("trends.csv"));
            Assert.Equal(input.Packs.Count(pack => pack.LastChargeSamples is not null), paths.Count(path => path.EndsWith("-last-charge.csv", StringComparison.Ordinal)));
            Assert.All(paths, path =>
            {
                string[] lines = File.ReadAllLines(path);
                int columns = Fields(lines[0]);
                Assert.All(lines, line => Assert.Equal(columns, Fields(line)));
            });
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void The_samples_of_the_last_charge_come_out_in_the_plain_layout_and_exact()
    {
        ReportPack pack = StoryTeller.Tell(new Story { Label = "One", Cells = 2, OddCell = 1, SamplesPerCharge = 50 }, 1);
        DataSheet sheet = Tables.LastCharge(new Charts.PackView(pack, TimeSpan.Zero))!;
        Assert.Equal(["time_s", "current_a", "cell1_v", "cell2_v", "charge_ah", "temp_c"], sheet.Columns);
        decimal?[] volts = [.. sheet.Rows.Select(row => (decimal?)row[2])];
        Assert.Equal(pack.LastChargeSamples![ChannelKey.Cell(1)]!.ToDecimals(), volts);
    }

    [Fact]
    public void The_json_holds_the_same_and_null_where_there_is_no_figure()
    {
        ReportInput input = StoryTeller.Everything();
        using var stream = new MemoryStream();
        ReportData.WriteJson(input, stream);
        using JsonDocument json = JsonDocument.Parse(stream.ToArray());
        JsonElement packs = json.RootElement.GetProperty("packs");
        Assert.Equal(input.Packs.Count, packs.GetArrayLength());
        JsonElement never = packs.EnumerateArray().Single(pack => pack.GetProperty("pack").GetString() == "Never logged");
        Assert.Equal(JsonValueKind.Null, never.GetProperty("restSpreadMillivolts").ValueKind);
        Assert.Equal(JsonValueKind.Null, never.GetProperty("healthPercent").ValueKind);
        Assert.Equal("unknown", never.GetProperty("standing").GetString());
        Assert.Equal(input.Packs.Count, json.RootElement.GetProperty("lastCharges").GetArrayLength());
        Assert.Equal("self-discharge", packs.EnumerateArray().Single(pack => pack.GetProperty("pack").GetString() == "Stork 4S").GetProperty("imbalanceCause").GetString());
    }

    private static int Fields(string line)
    {
        int count = 1;
        bool quoted = false;
        foreach (char c in line)
        {
            quoted ^= c == '"';
            count += c == ',' && !quoted ? 1 : 0;
        }

        return count;
    }
}
