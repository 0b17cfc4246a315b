using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Core.Samples;

namespace PackCare.Import.Tests;

/// <summary>All cells of a moment in one field, with what logs put beside the numbers; and cells named in words where each has a row.</summary>
public class CellsInOneFieldTests
{
    [Theory]
    [InlineData("cells [V]", "[1:{0} 2:{1}]")]
    [InlineData("cells V", "1={0} 2={1}")]
    [InlineData("cells", "[{0}V; {1}V]")]
    [InlineData("cells", "\"{0} V | {1} V\"")]
    [InlineData("cells", "(0: {0}V / 1: {1}V)")]
    public void Numbers_and_units_beside_the_values_are_none_of_them(string header, string form)
    {
        string[] one = ["4.100", "4.101", "4.085", "4.083", "4.081", "4.098"];
        string[] other = ["4.096", "4.096", "4.081", "4.080", "4.077", "4.094"];
        string[] amps = ["0.00", "0.00", "-1.80", "-1.80", "-1.80", "0.00"];
        string log = $"time [s],current [A],{header}\n" + string.Concat(amps.Select((value, i) => $"{10 * i},{value},{string.Format(null, form, one[i], other[i])}\n"));

        ReadResult result = Logs.ReadText(log);

        Assert.DoesNotContain(result.Problems, problem => problem.Level == ProblemLevel.Refusal);
        SampleSeries samples = Assert.Single(result.Sessions).Samples;
        Assert.Equal(one, Values(samples, ChannelKey.Cell(1)));
        Assert.Equal(other, Values(samples, ChannelKey.Cell(2)));
    }

    [Theory]
    [InlineData("[1:{0} 2:{1}]", "[1:4.081 3:4.077]")]
    [InlineData("[{0}V; {1}V]", "[4.081V; 4.077]")]
    [InlineData("[{0}V; {1}V]", "[4.081V; 4077mV]")]
    public void One_that_is_numbered_otherwise_or_lacks_its_unit_is_refused(string form, string odd)
    {
        string log = "time [s],current [A],cells\n" + string.Concat(Enumerable.Range(0, 9).Select(i => $"{10 * i},-1.80,{(i == 4 ? odd : string.Format(null, form, "4.08" + (9 - i), "4.07" + (9 - i)))}\n"));

        InputProblem refusal = Logs.ReadText(log).Problems.First(problem => problem.Level == ProblemLevel.Refusal);

        Assert.Equal(6, refusal.Line);
    }

    [Theory]
    [InlineData("1 of 3", "2 of 3", "3 of 3")]
    [InlineData("1/3", "2/3", "3/3")]
    [InlineData("Zelle 1 von 3", "Zelle 2 von 3", "Zelle 3 von 3")]
    [InlineData("one", "two", "three")]
    [InlineData("première", "deuxième", "troisième")]
    [InlineData("I", "II", "III")]
    public void Cells_of_one_row_each_are_numbered_in_words(string one, string two, string three)
    {
        string log = "time s;cell;voltage V;current A\n" + string.Concat(Enumerable.Range(0, 12).Select(i =>
            $"{10 * i};{one};4.1{i:00};1.50\n{10 * i};{two};4.0{i:00};1.50\n{10 * i};{three};3.9{i:00};1.50\n"));

        ReadResult result = Logs.ReadText(log);

        SampleSeries samples = Assert.Single(result.Sessions).Samples;
        Assert.Equal("4.100", Values(samples, ChannelKey.Cell(1))[0]);
        Assert.Equal("3.911", Values(samples, ChannelKey.Cell(3))[11]);
    }

    [Fact]
    public void Cells_counted_from_nought_have_rows_of_their_pack_beside_them()
    {
        string log = "time s;cell;voltage V\n" + string.Concat(Enumerable.Range(0, 12).Select(i => $"{10 * i};0;4.1{i:00}\n{10 * i};1;4.0{i:00}\n{10 * i};2;3.9{i:00}\n{10 * i};pack;12.{3 * i:000}\n"));

        SampleSeries samples = Assert.Single(Logs.ReadText(log).Sessions).Samples;

        Assert.Equal("4.100", Values(samples, ChannelKey.Cell(1))[0]);
        Assert.Equal("12.000", Values(samples, ChannelKey.PackVoltage)[0]);
    }

    private static string[] Values(SampleSeries samples, ChannelKey key) => [.. samples[key]!.ToDecimals().Select(value => value!.Value.ToString(CultureInfo.InvariantCulture))];
}
