using System.Globalization;
using System.Text;
using PackCare.Core.Reading;

namespace PackCare.Import.Tests;

/// <summary>All rows of one pack, then all of the next, under a heading that says nothing. All data is invented.</summary>
public class LabelBlockTests
{
    private const int Rows = 30;

    [Theory]
    [InlineData("lane", "north", "south")]
    [InlineData("xyz", "1", "2")]
    [InlineData(null, "north", "south")]
    public void Blocks_whose_time_begins_anew_are_sessions_of_their_own_and_the_column_is_pointed_at(string? heading, string first, string second)
    {
        ReadResult result = Logs.ReadText(Log(heading, [first, second], row => row % Rows * 10, row => 3.7 + (row / Rows * 0.1) + (row % Rows * 0.002), _ => 2));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.Equal([Rows, Rows], result.Sessions.Select(session => session.Samples.Count));
        Assert.Contains(result.Problems, problem => problem is { Code: "left-out", Column: 2, Level: ProblemLevel.Notice });
    }

    [Theory]
    [InlineData("lane", "north", "south")]
    [InlineData("xyz", "1", "2")]
    public void Blocks_whose_time_goes_on_are_refused_where_the_cells_jump(string heading, string first, string second)
    {
        ReadResult result = Logs.ReadText(Log(heading, [first, second], row => row * 10, row => 3.7 + (row / Rows * 0.1) + (row % Rows * 0.002), _ => 2));

        InputProblem refusal = Assert.Single(result.Problems, problem => problem.Level == ProblemLevel.Refusal);
        Assert.Equal(("rows-take-turns", Rows + 2, 2), (refusal.Code, refusal.Line, refusal.Column));
    }

    [Fact]
    public void A_column_that_changes_with_the_current_is_no_name_of_packs()
    {
        ReadResult result = Logs.ReadText(Log("lane", ["hold", "go", "hold"], row => row * 10, row => 3.7 + (row / Rows == 1 ? 0.05 + (row % Rows * 0.002) : row / Rows * 0.03), row => row / Rows == 1 ? 5 : 0));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.Equal(3 * Rows, result.Sessions.Sum(session => session.Samples.Count));
        Assert.Contains(result.Problems, problem => problem is { Code: "left-out", Line: Rows + 2, Column: 2 });
    }

    [Fact]
    public void A_column_headed_as_a_mode_is_no_name_of_packs()
    {
        ReadResult result = Logs.ReadText(Log("state", ["1", "2"], row => row * 10, row => 3.7 + (row / Rows * 0.1) + (row % Rows * 0.002), _ => 2));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
    }

    private static string Log(string? heading, string[] labels, Func<int, int> time, Func<int, double> volts, Func<int, double> amperes)
    {
        var text = new StringBuilder(heading is null ? "" : $"time [s];{heading};cell 1 [V];cell 2 [V];cell 3 [V];current [A]\n");
        for (int row = 0; row < labels.Length * Rows; row++)
        {
            double cell = volts(row) + (row * 7 % 5 * 0.0002);
            text.Append(CultureInfo.InvariantCulture, $"{time(row)};{labels[row / Rows]};{cell:0.0000};{cell + 0.003:0.0000};{cell + 0.007:0.0000};{amperes(row):0.000}\n");
        }

        return text.ToString();
    }
}
