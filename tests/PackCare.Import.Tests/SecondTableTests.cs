using System.Globalization;
using System.Text;
using PackCare.Core.Reading;

namespace PackCare.Import.Tests;

/// <summary>A short table ahead of a longer one of another width. All data is invented.</summary>
public class SecondTableTests
{
    [Theory]
    [InlineData(2, "", 4)]
    [InlineData(12, "", 14)]
    [InlineData(12, "\n", 15)]
    public void A_longer_table_does_not_make_a_comment_of_the_one_before_it(int rows, string between, int line)
    {
        ReadResult result = Logs.ReadText(Table(rows, 2) + between + Table(50, 3));

        InputProblem problem = result.Problems.First(problem => problem.Level == ProblemLevel.Refusal);
        Assert.Equal(("second-table", (int?)line), (problem.Code, problem.Line));
    }

    [Fact]
    public void A_summary_of_cells_above_the_table_is_no_table_of_samples()
    {
        ReadResult result = Logs.ReadText("cell;R (mOhm);end (V)\n1;5.2;4.19\n2;5.4;4.20\n" + Table(50, 3));

        Assert.False(result.Refused, string.Join("\n", result.Problems));
    }

    private static string Table(int rows, int cells)
    {
        var text = new StringBuilder("time [s];" + string.Join(';', Enumerable.Range(1, cells).Select(cell => $"cell {cell} [V]")) + ";current [A]\n");
        for (int row = 0; row < rows; row++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{row * 10};{string.Join(';', Enumerable.Range(1, cells).Select(cell => $"3.{800 + row + cell}"))};1.00\n");
        }

        return text.ToString();
    }
}
