using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Core.Samples;

namespace PackCare.Import.Tests;

/// <summary>Logs without a header, or with one that says nothing, in which the current is steady. All are invented.</summary>
public class HeaderlessCurrentTests
{
    [Theory]
    [InlineData("4.50", 1, 6)]
    [InlineData("4.00", 2, 3)]
    [InlineData("3.20", 3, -2)]
    [InlineData("4.000", 3, 3)]
    [InlineData("4.000", 1, 3)]
    public void A_steady_current_of_the_size_of_a_cell_is_never_taken_for_one(string amperes, int cells, int millivoltsARow)
    {
        foreach (int rows in new[] { 6, 24 })
        {
            ReadResult result = Logs.ReadText(Log(rows, cells, millivoltsARow, amperes));

            Assert.True(result.Refused || result.Sessions[0].Samples.CellCount == cells, string.Join("\n", result.Problems));
        }
    }

    [Theory]
    [InlineData("2.00", 3, 3)]
    [InlineData("-3.00", 2, -4)]
    public void The_only_column_that_can_be_a_steady_current_is_taken_with_a_notice(string amperes, int cells, int millivoltsARow)
    {
        ReadResult result = Logs.ReadText(Log(24, cells, millivoltsARow, amperes));

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.All(result.Sessions[0].Samples[ChannelKey.Current]!.ToDecimals(), value => Assert.Equal(decimal.Parse(amperes, CultureInfo.InvariantCulture), value));
        Assert.Contains(result.Problems, problem => problem.Code == "current-by-elimination");
    }

    [Fact]
    public void What_hardly_moves_is_no_power_of_what_never_does()
    {
        // A temperature of 22 degrees and a resistance of 174.7 beside a pack of 7.94 V: 22 x 7.94 is about 174.7.
        string[] rows = [.. Enumerable.Range(0, 12).Select(row => string.Create(CultureInfo.InvariantCulture, $"{row * 10};{4.11 - (0.009 * row):F3};{4.115 - (0.009 * row):F3};22.0;-1.00;{174.7 - (0.01 * row):F1}"))];

        ReadResult result = Logs.ReadText(string.Join('\n', rows) + "\n");

        Assert.True(result.Refused || result.Sessions[0].Samples[ChannelKey.Current] is null || result.Sessions[0].Samples[ChannelKey.Current]!.ToDecimals().First() == -1.00m, string.Join("\n", result.Problems));
    }

    [Theory]
    [InlineData("Laufzeit")]
    [InlineData("Elapsed time")]
    [InlineData("Durée")]
    public void A_clock_over_midnight_is_one_session_whatever_it_is_headed(string header)
    {
        string[] rows = [.. Enumerable.Range(0, 20).Select(row => string.Create(CultureInfo.InvariantCulture, $"{TimeSpan.FromSeconds((86_100 + (30 * row)) % 86_400):hh\\:mm\\:ss};2.00;{3.7 + (0.005 * row):F3};{3.702 + (0.005 * row):F3}"))];

        ReadResult result = Logs.ReadText($"{header};Strom [A];Zelle 1 [V];Zelle 2 [V]\n{string.Join('\n', rows)}\n");

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        var session = Assert.Single(result.Sessions);
        Assert.Equal(570, session.Samples.TimeSeconds()[^1]);
    }

    [Fact]
    public void Cells_that_fill_so_fast_that_they_go_on_rising_when_the_current_stops_show_no_discharge()
    {
        var rows = new List<string>();
        for (int session = 0; session < 2; session++)
        {
            double volts = 3.65 + (0.1 * session);
            for (int row = 0; row < 14; row++)
            {
                double amperes = row is >= 3 and <= 10 ? 3 : 0;
                volts += amperes > 0 ? row == 3 ? 0.018 : 0.023 : row == 11 ? 0.005 : 0;
                rows.Add(string.Create(CultureInfo.InvariantCulture, $"{row * 20};{amperes:F2};{volts:F3};{volts - 0.004:F3};{volts + 0.003:F3}"));
            }
        }

        ReadResult result = Logs.ReadText($"Elapsed [s];Amps [A];Cell1 Voltage [V];Cell2 Voltage [V];Cell3 Voltage [V]\n{string.Join('\n', rows)}\n");

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.Equal(2, result.Sessions.Count);
    }

    private static string Log(int rows, int cells, int millivoltsARow, string amperes) => string.Concat(Enumerable.Range(0, rows).Select(row =>
        $"{row * 10};{amperes};{string.Join(';', Enumerable.Range(0, cells).Select(cell => (3.9 - (0.003 * cell) + (0.001 * millivoltsARow * row)).ToString("F3", CultureInfo.InvariantCulture)))}\n"));
}
