using PackCare.Core.Reading;

namespace PackCare.Import.Tests;

/// <summary>A multiple of a unit in a header would put every value off by its factor; a figure that says something else does not. All data is invented.</summary>
public class ScaledUnitTests
{
    [Theory]
    [InlineData("time (0.1 s)", "cell 1 (V)", "current (A)", 1)]
    [InlineData("time (100 ms)", "cell 1 (V)", "current (A)", 1)]
    [InlineData("time [s/10]", "cell 1 (V)", "current (A)", 1)]
    [InlineData("time in 1/10 s", "cell 1 (V)", "current (A)", 1)]
    [InlineData("time [cs]", "cell 1 (V)", "current (A)", 1)]
    [InlineData("time [ks]", "cell 1 (V)", "current (A)", 1)]
    [InlineData("time [half min]", "cell 1 (V)", "current (A)", 1)]
    [InlineData("time (s)", "cell 1 (10 mV)", "current (A)", 2)]
    [InlineData("time (s)", "cell 1 (cV)", "current (A)", 2)]
    [InlineData("time (s)", "cell 1 (V)", "current (10 mA)", 3)]
    [InlineData("time (s)", "cell 1 (V)", "current [0,1 A]", 3)]
    [InlineData("time (s)", "cell 1 (V)", "current (dA)", 3)]
    [InlineData("time (s)", "cell 1 (V)", "current x10 [A]", 3)]
    [InlineData("time (s)", "cell 1 (V)", "current [A*100]", 3)]
    public void A_multiple_of_a_unit_is_refused(string time, string cell, string current, int column)
    {
        ReadResult result = Logs.ReadText(Log(time, cell, current));

        InputProblem refusal = Assert.Single(result.Problems, problem => problem.Level == ProblemLevel.Refusal);
        Assert.Equal(("scaled-unit", (int?)column), (refusal.Code, refusal.Column));
    }

    [Fact]
    public void So_is_one_in_a_row_of_units()
    {
        ReadResult result = Logs.ReadText(Log("time", "cell 1", "current").Insert("time;cell 1;current\n".Length, "s;V;10 mA\n"));

        Assert.Contains(result.Problems, problem => problem.Level == ProblemLevel.Refusal);
        Assert.Empty(result.Sessions);
    }

    // Millionths by either sign for micro are units of their own.
    [Theory]
    [InlineData("µ")]
    [InlineData("μ")]
    [InlineData("u")]
    public void Millionths_are_read(string micro)
    {
        ReadResult result = Logs.ReadText($"time [s];cell 1 [{micro}V];current [{micro}A];charge [{micro}Ah]\n"
            + string.Concat(Enumerable.Range(0, 40).Select(row => FormattableString.Invariant($"{row * 20};{3_700_001 + (row * 5000)};2000000;{row * 11111}\n"))));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Dictionary<string, decimal?> first = Assert.Single(result.Sessions).Samples.Channels.ToDictionary(channel => Logs.Name(channel.Key), channel => channel.ToDecimals().First());
        Assert.Equal((3.700001m, 2m), (first["cell1"], first["current"]));
        Assert.Contains("charge", first.Keys);
    }

    // A lag, a frequency, a rate and a sensor are no factors.
    [Theory]
    [InlineData("R1 (10 s) [mOhm]")]
    [InlineData("R1 [mOhm] (1 kHz)")]
    [InlineData("fan at 10 V")]
    [InlineData("note (10 A load)")]
    [InlineData("energy [kWh]")]
    [InlineData("interval time (10 s)")]
    public void Another_figure_beside_a_unit_is_none(string header)
    {
        ReadResult result = Logs.ReadText(Log("time (s)", "cell 1 (V)", "current (A)", header));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
    }

    [Theory]
    [InlineData("Cell x1 [V]", "Cell x10 [V]")]
    [InlineData("1 x [V]", "10 x [V]")]
    public void The_tenth_cell_is_no_factor(string first, string tenth)
    {
        string header = "time (s);" + string.Join(';', Enumerable.Range(1, 10).Select(cell => cell == 10 ? tenth : first.Replace("1", $"{cell}", StringComparison.Ordinal))) + ";current (100 A)\n";

        ReadResult result = Logs.ReadText(header + string.Concat(Enumerable.Range(0, 40).Select(row => $"{row * 20};{string.Join(';', Enumerable.Range(0, 10).Select(cell => FormattableString.Invariant($"{3.7 + (row * 0.005) + (cell * 0.001):0.000}")))};{(row < 3 ? 0 : 2)}.00\n")));

        Assert.DoesNotContain(result.Problems, problem => problem.Code == "scaled-unit");
        Assert.Equal(10, Assert.Single(result.Sessions).Samples.CellCount);
    }

    private static string Log(string time, string cell, string current, string? more = null) =>
        string.Join(';', (string[])[time, cell, current, .. (more is null ? (string[])[] : [more])]) + "\n"
        + string.Concat(Enumerable.Range(0, 40).Select(row => FormattableString.Invariant($"{row * 20};{3.7 + (row * 0.005):0.000};{(row < 3 ? 0 : 2)}.00{(more is null ? "" : $";{3 + (row % 2)}.1")}\n")));
}
