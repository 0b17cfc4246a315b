using System.Text;
using PackCare.Core.Reading;
using PackCare.Core.Samples;

namespace PackCare.Import.Tests;

public class DamageTests
{
    /// <summary>Seeds whose damage was once read wrong or dropped in silence.</summary>
    public static TheoryData<int> KeptSeeds => [17, 23, 32, 41, 95, 164, 187, 197, 248, 502, 509, 687, 754, 1153, 2177, 2260, 3396, 21961, 1748773, 2482218];

    [Theory]
    [MemberData(nameof(KeptSeeds))]
    public void Damage_in_one_row_that_once_went_wrong_leaves_all_other_rows_right(int seed) => DamageOneRow(seed, inRarerForm: false);

    [Theory]
    [InlineData(505998)]
    [InlineData(510559)]
    [InlineData(703347)]
    [InlineData(836331)]
    [InlineData(714093)]
    [InlineData(900855)]
    [InlineData(1201855)]
    public void Damage_in_one_row_of_a_rarer_form_that_once_went_wrong_leaves_all_other_rows_right(int seed) => DamageOneRow(seed, inRarerForm: seed % 2 == 1);

    [Fact]
    public void Damage_in_one_row_ends_in_refusal_or_leaves_all_other_rows_right()
    {
        foreach (int seed in Seeds.OfThisRun(usual: 300))
        {
            DamageOneRow(seed, inRarerForm: seed % 2 == 1);
        }
    }

    [Fact]
    public void Damage_anywhere_ends_in_a_result_with_a_balanced_ledger_and_without_a_crash()
    {
        // A million inputs, as a campaign: PACKCARE_FUZZ_INPUTS=1000000.
        byte[][] corpus = [.. Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "Files"), "*.csv", SearchOption.AllDirectories).Order(StringComparer.Ordinal).Select(File.ReadAllBytes).Where(bytes => bytes.Length > 0)];
        long before = GC.GetTotalMemory(forceFullCollection: true);
        foreach (int seed in Seeds.OfThisRun(usual: 600))
        {
            var random = new Random(seed);
            byte[] damaged = Damage.Anywhere(corpus[random.Next(corpus.Length)], random);
            long started = Environment.TickCount64;

            ReadResult? read = null;
            Exception? crash = Record.Exception(() => read = Logs.ReadBytes(damaged));
            Assert.True(crash is null, $"seed {seed}: {crash}");
            ReadResult result = read!;

            Assert.True(result.Ledger.Balances, $"seed {seed}: {result.Ledger}");
            Assert.True(!result.Refused || result.Sessions.Count == 0, $"seed {seed}: refused, and yet there are sessions");
            Assert.True(Environment.TickCount64 - started < 20_000, $"seed {seed}: took {Environment.TickCount64 - started} ms");
        }

        Assert.True(GC.GetTotalMemory(forceFullCollection: true) - before < 50_000_000, "memory grows from log to log");
    }

    [Fact]
    public void A_temperature_without_a_header_may_miss_its_first_reading()
    {
        string rows = string.Concat(Enumerable.Range(0, 60).Select(row => FormattableString.Invariant(
            $"{row * 10},{(row < 5 ? 0 : 2):0.000},{3.7 + (row * 0.004):0.000},{3.7 + (row * 0.004) + (row < 5 ? 0 : 0.01):0.000},{Math.Max(0, row - 5) * 20 / 3600.0:0.000},{(row == 0 ? "" : FormattableString.Invariant($"{22 + (row * row / 400.0):0.0}"))}\n")));

        ReadResult result = Logs.ReadText(rows);

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.True(double.IsNaN(Assert.Single(result.Sessions).Samples.Values(ChannelKey.Temperature(1))![0]));
    }

    [Fact]
    public void A_cell_without_a_number_beside_a_numbered_voltage_is_the_only_cell()
    {
        string rows = string.Concat(Enumerable.Range(0, 30).Select(row => FormattableString.Invariant($"{row * 10},{3.7 + (row * 0.004):0.000},{3.5 + (row * 0.002):0.000}\n")));

        ReadResult result = Logs.ReadText("time_s,cell_v,voltage2\n" + rows);

        Assert.True(result.Refused || Assert.Single(result.Sessions).Samples is { CellCount: 1 } samples && samples.Values(ChannelKey.Cell(1))![0] == 3.7, string.Join('\n', result.Problems));
    }

    [Fact]
    public void A_first_row_without_its_date_beside_elapsed_time_does_not_date_the_log()
    {
        string rows = string.Concat(Enumerable.Range(0, 30).Select(row => FormattableString.Invariant(
            $"{row * 10},{(row == 0 ? "" : (1_767_225_600 + (row * 10)).ToString(System.Globalization.CultureInfo.InvariantCulture))},{3.7 + (row * 0.004):0.000},{3.7 + (row * 0.004):0.000},2.000\n")));

        ReadResult result = Logs.ReadText("time [s],timestamp,cell 1 [V],cell 2 [V],current [A]\n" + rows);

        Assert.True(result.Refused || result.Sessions[0].TimeQuality != Core.Sessions.TimeQuality.Exact, "dated by a reading that is not there");
    }

    // What units and names tell, no damage to one value changes; a log without them may lose its proof along with the value.
    private static void DamageOneRow(int seed, bool inRarerForm)
    {
        var random = new Random(seed);
        GeneratedSession session = GeneratedSession.Make(random);
        LogWriter writer = LogWriter.Make(random);
        writer = (inRarerForm ? writer.Vary(new Random(~seed)) : writer) with { Encoding = 0, LineEnd = "\n", Layout = 0, BareHeader = false };
        writer = writer with { Header = Math.Max(0, writer.Header) };
        string text = Encoding.UTF8.GetString(writer.Write(session, out List<int> lineOfRow));
        int row = random.Next(session.Rows);
        string damaged = Damage.OneLine(text, lineOfRow[row], "\n", random);
        SampleSeries truth = Logs.ReadText(text).Sessions[0].Samples;

        ReadResult result = Logs.ReadText(damaged);

        Assert.True(result.Ledger.Balances);
        if (result.Refused)
        {
            Assert.Empty(result.Sessions);
            return;
        }

        string story = $"seed {seed}, line {lineOfRow[row]}: {damaged.Split('\n')[lineOfRow[row] - 1]}\n{string.Join("\n", result.Problems)}";
        SampleSeries read = Assert.Single(result.Sessions).Samples;
        int gone = truth.Count - read.Count;
        Assert.True(gone is 0 or 1, story);
        if (gone == 1 && row == session.Rows - 1 && damaged.Split('\n')[lineOfRow[row] - 1].Length == 0)
        {
            // A last row of which nothing is left is a log that ended a row earlier.
            return;
        }

        Assert.True(gone == 0 || result.Problems.Any(problem => problem.Line is not null) || result.Ledger.Comments > 0, $"a row is gone and nobody says so\n{story}");
        foreach (Channel channel in truth.Channels)
        {
            if (read[channel.Key] is null)
            {
                Assert.True(result.Problems.Any(problem => problem.Line is not null), $"{channel.Key} is gone and nobody says so\n{story}");
                continue;
            }

            decimal?[] was = [.. channel.ToDecimals()];
            decimal?[] now = [.. read[channel.Key]!.ToDecimals()];
            for (int r = 0; r < was.Length; r++)
            {
                // All time is counted from the first row.
                if (r != row && !(row == 0 && channel.Key == ChannelKey.Time))
                {
                    Assert.True(was[r] == now[r - (r > row ? gone : 0)], $"{channel.Key} in row {r + 1}\n{story}");
                }
            }
        }
    }
}
