using System.Globalization;
using System.Text;
using PackCare.Core.Reading;

namespace PackCare.Import.Tests;

/// <summary>Logs of which a row or two name another pack or session than they are of. All data is invented.</summary>
public class DamagedLabelTests
{
    private const int Rows = 200;

    [Theory]
    [InlineData("pack", "alpha", 60, 1, "alpna")]
    [InlineData("pack", "alpha", 60, 2, "alpna")]
    [InlineData("pack", "alpha", 0, 1, "alpna")]
    [InlineData("pack", "alpha", Rows - 1, 1, "alp")]
    [InlineData("pack", "7", 60, 1, "9")]
    [InlineData("session", "7", 60, 1, "9")]
    public void A_row_of_another_pack_or_session_is_refused_at_its_line(string heading, string label, int at, int count, string damaged) =>
        AssertRefused(Log(heading, row => row >= at && row < at + count ? damaged : label), at);

    [Theory]
    [InlineData(60, "alpna")]
    [InlineData(60, "beta")]
    [InlineData(150, "alpha")]
    [InlineData(100, "")]
    public void A_damaged_label_among_packs_that_follow_each_other_is_refused(int at, string damaged) =>
        AssertRefused(Log("pack", row => row == at ? damaged : row < Rows / 2 ? "alpha" : "beta"), at);

    [Theory]
    [InlineData(60, "alpna")]
    [InlineData(60, "beta")]
    [InlineData(61, "")]
    public void A_damaged_label_among_packs_in_turn_is_refused(int at, string damaged) =>
        AssertRefused(Log("pack", row => row == at ? damaged : row % 2 == 0 ? "alpha" : "beta", turns: 2), at);

    [Theory]
    [InlineData(60)]
    [InlineData(61)]
    public void A_damaged_label_among_rows_of_one_cell_is_refused(int at)
    {
        var text = new StringBuilder("time [s];pack;cell;voltage [V]\n");
        for (int row = 0; row < Rows; row++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{row / 4 * 10};{(row == at ? "alpna" : "alpha")};{(row % 4) + 1};{3.8 + (row * 0.0004):0.0000}\n");
        }

        AssertRefused(text.ToString(), at);
    }

    [Fact]
    public void A_label_that_is_left_out_between_rows_of_the_same_pack_is_that_of_its_neighbours()
    {
        ReadResult result = Logs.ReadText(Log("pack", row => row == 60 ? "" : "alpha"));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.Equal(("alpha", Rows), (Assert.Single(result.Sessions).PackHint, result.Sessions[0].Samples.Count));
    }

    [Fact]
    public void A_pack_that_is_logged_more_seldom_than_another_is_no_damage()
    {
        ReadResult result = Logs.ReadText(Log("pack", row => row % 20 == 19 ? "beta" : "alpha"));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.Equal([Rows - (Rows / 20), Rows / 20], result.Sessions.Select(session => session.Samples.Count));
    }

    [Fact]
    public void A_row_that_is_missing_among_packs_in_turn_is_a_gap()
    {
        string text = Log("pack", row => row % 2 == 0 ? "alpha" : "beta", turns: 2);
        string[] lines = text.Split('\n');

        ReadResult result = Logs.ReadText(string.Join('\n', lines.Where((_, line) => line != 62)));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.Equal(Rows - 1, result.Sessions.Sum(session => session.Samples.Count));
    }

    private static void AssertRefused(string text, int row)
    {
        ReadResult result = Logs.ReadText(text);

        InputProblem? refusal = result.Problems.FirstOrDefault(problem => problem.Level == ProblemLevel.Refusal);
        Assert.True(refusal is not null, "it was read");
        Assert.Equal(("pack-label", row + 2, 2), (refusal.Code, refusal.Line, refusal.Column));
    }

    private static string Log(string heading, Func<int, string> label, int turns = 1)
    {
        var text = new StringBuilder($"time [s];{heading};cell 1 [V];cell 2 [V];current [A]\n");
        for (int row = 0; row < Rows; row++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{row / turns * 10};{label(row)};{3.7 + (row * 0.0004):0.0000};{3.703 + (row * 0.0004):0.0000};2.000\n");
        }

        return text.ToString();
    }
}
