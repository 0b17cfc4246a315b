using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Core.Samples;

namespace PackCare.Import.Tests;

/// <summary>An invented pack of one cell (12 mOhm, a straight rest voltage) in logs that do not say which column is its voltage.</summary>
public class LoneCellTests
{
    private const double Ohms = 0.012;

    [Theory]
    [InlineData("", ",", '.', 1)]
    [InlineData("", ";", ',', 1)]
    [InlineData("", "\t", '.', 1000)]
    [InlineData("x,y,z\n", ",", '.', 1)]
    public void A_column_that_answers_the_current_is_the_cell(string header, string delimiter, char mark, int unit)
    {
        ReadResult result = Logs.ReadText(header + Log(delimiter, mark, unit, k => k is < 3 or > 96 ? 0 : k % 20 < 12 ? -4 : -1));

        Assert.DoesNotContain(result.Problems, problem => problem.Level == ProblemLevel.Refusal);
        SampleSeries samples = Assert.Single(result.Sessions).Samples;
        Assert.Equal([ChannelKey.Time, ChannelKey.Cell(1), ChannelKey.Current], samples.Channels.Select(channel => channel.Key));
    }

    [Theory]
    [InlineData(-3.0)]
    [InlineData(2.0)]
    public void A_steady_current_that_sets_in_and_ends_tells_it_too(double amps)
    {
        ReadResult result = Logs.ReadText(Log(",", '.', 1, k => k is < 3 or > 96 ? 0 : amps));

        Assert.DoesNotContain(result.Problems, problem => problem.Level == ProblemLevel.Refusal);
        Assert.Equal(Math.Sign(amps), Math.Sign(Assert.Single(result.Sessions).Samples.Values(ChannelKey.Current)!.Sum()));
    }

    [Fact]
    public void Without_a_current_nothing_proves_it()
    {
        string log = string.Concat(Enumerable.Range(0, 60).Select(k => string.Create(CultureInfo.InvariantCulture, $"{k * 10},{4.1 - (0.002 * k):F3}\n")));

        Assert.Equal("no-voltages", Assert.Single(Logs.ReadText(log).Problems).Code);
    }

    [Fact]
    public void A_current_that_the_column_does_not_answer_proves_nothing()
    {
        // 3.1 to 3.9 as a meter may wander, beside a load that comes and goes.
        string log = string.Concat(Enumerable.Range(0, 100).Select(k => string.Create(
            CultureInfo.InvariantCulture, $"{k * 10},{3.5 + (0.4 * Math.Sin(k * 0.31)):F3},{(k % 20 < 10 ? -4.0 : 0.0):F2}\n")));

        ReadResult result = Logs.ReadText(log);

        Assert.Empty(result.Sessions);
        Assert.Equal(1, result.Problems.First(problem => problem.Level == ProblemLevel.Refusal).Line);
    }

    [Fact]
    public void The_mean_of_the_cells_of_a_larger_pack_is_no_pack_of_one_cell()
    {
        double charge = 0;
        string log = string.Concat(Enumerable.Range(0, 100).Select(k =>
        {
            double amps = k is < 3 or > 96 ? 0 : k % 20 < 12 ? -4 : -1;
            charge += amps * 10 / 3600;
            double volts = 4.0 + (0.5 * charge / 2.2) + (amps * Ohms);
            return string.Create(CultureInfo.InvariantCulture, $"{k * 10},{4 * volts:F2},{volts:F3},{amps:F2}\n");
        }));

        Assert.Empty(Logs.ReadText(log).Sessions);
    }

    private static string Log(string delimiter, char mark, int unit, Func<int, double> amps)
    {
        double charge = 0;
        return string.Concat(Enumerable.Range(0, 100).Select(k =>
        {
            charge += amps(k) * 10 / 3600;
            double volts = 3.8 + (0.5 * charge / 2.2) + (amps(k) * Ohms);
            string[] fields = [(k * 10).ToString(CultureInfo.InvariantCulture), (volts * unit).ToString(unit == 1 ? "F3" : "F0", CultureInfo.InvariantCulture), amps(k).ToString("F2", CultureInfo.InvariantCulture)];
            return string.Join(delimiter, fields.Select(field => field.Replace('.', mark))) + "\n";
        }));
    }
}
