using System.Globalization;
using System.Text;
using PackCare.Core.Reading;

namespace PackCare.Import.Tests;

/// <summary>Logs with more than one column in a unit of time. All data is invented.</summary>
public class SeveralTimesTests
{
    [Theory]
    [InlineData("dt [s]", "5,5,5,5")]
    [InlineData("timeout [s]", "3600,3600,3600,3600")]
    [InlineData("loop time [ms]", "11,12,13,11")]
    [InlineData("remaining time [min]", "50,49.9,49.8,49.7")]
    [InlineData("phase time [s]", "0,5,0,5")]
    public void A_time_that_is_not_that_of_the_row_does_not_take_the_place_of_date_and_time(string header, string cycle)
    {
        ReadResult result = Logs.ReadText(Log(header, row => cycle.Split(',')[header.StartsWith("rem", StringComparison.Ordinal) ? Math.Min(row, 3) : row % 4]));

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.Equal(Enumerable.Range(0, 24).Select(row => (decimal?)(5 * row)), Assert.Single(result.Sessions).Samples.Channels.Single(channel => Logs.Name(channel.Key) == "time").ToDecimals());
    }

    [Fact]
    public void A_fraction_of_the_second_in_a_column_of_its_own_is_refused()
    {
        var text = new StringBuilder("timestamp;millis;cell 1 [V];cell 2 [V];current [A]\n");
        for (int row = 0; row < 24; row++)
        {
            text.Append(CultureInfo.InvariantCulture, $"2026-04-02 10:00:{row / 4:00};{row % 4 * 250};3.8{row:00};3.8{row + 1:00};1.00\n");
        }

        ReadResult result = Logs.ReadText(text.ToString());

        Assert.Equal("ambiguous-time", result.Problems.First(problem => problem.Level == ProblemLevel.Refusal).Code);
    }

    [Fact]
    public void Milliseconds_without_a_unit_are_not_taken_for_seconds_for_want_of_one_row()
    {
        var text = new StringBuilder("time,current,cell 1,cell 2\n");
        for (int row = 0; row < 40; row++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{(row < 20 ? row : row + 1) * 1000},{(row < 3 ? "0.00" : "3.00")},3.8{row + (row < 3 ? 0 : 20):00},3.8{row + (row < 3 ? 0 : 20):00}\n");
        }

        ReadResult result = Logs.ReadText(text.ToString());

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.Equal(40, result.Sessions[0].Samples.Channels.Single(channel => Logs.Name(channel.Key) == "time").ToDecimals().Last());
    }

    private static string Log(string header, Func<int, string> other)
    {
        var text = new StringBuilder($"time;{header};cell 1 [V];cell 2 [V];current [A]\n");
        for (int row = 0; row < 24; row++)
        {
            text.Append(CultureInfo.InvariantCulture, $"2026-04-02 10:{row * 5 / 60:00}:{row * 5 % 60:00};{other(row)};3.8{row:00};3.8{row + 1:00};1.00\n");
        }

        return text.ToString();
    }
}
