using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Core.Sessions;

namespace PackCare.Import.Tests;

/// <summary>Columns of something else beside the readings of one invented charge of two cells: a row every 2 s, 1.5 A from the fourth on.</summary>
public class ForeignColumnsTests
{
    private const int Rows = 40;

    // Before a time in hours, minutes and seconds, and before one in seconds.
    [Theory]
    [InlineData("Fan speed [1/min]", 2400, 7)]
    [InlineData("Drift [mV/min]", 0.5, 0.1)]
    [InlineData("Flow [l/min]", 2.5, 0.02)]
    [InlineData("Pulse [1/s]", 12, 1)]
    [InlineData("Timer [min]", 120, 0)]
    [InlineData("Phase time [s]", 60, 0)]
    [InlineData("Step time [s]", 1, 5)]
    [InlineData("Remaining [min]", 90, -1)]
    public void A_rate_or_a_timer_is_no_time_of_the_row(string header, double first, double step)
    {
        foreach (bool isClock in (bool[])[true, false])
        {
            string log = Log($"{header};Time{(isClock ? "" : " [s]")};Cell 1 [V];Cell 2 [V];Current [A]", row =>
                string.Create(CultureInfo.InvariantCulture, $"{first + (step * row):0.##};{(isClock ? $"00:{row * 2 / 60:00}:{row * 2 % 60:00}" : $"{row * 2}")}"), _ => "");

            Assert.Equal(2 * (Rows - 1), Session(log).Samples.TimeSeconds()[^1]);
        }
    }

    [Theory]
    [InlineData("Solar panel [V]")]
    [InlineData("Voeding [V]")]
    [InlineData("Speisespannung [V]")]
    [InlineData("Starter battery [V]")]
    [InlineData("Питание [V]")]
    [InlineData("Winch house [V]")]
    public void A_voltage_that_goes_its_own_way_is_none_of_the_pack(string header)
    {
        SessionLog session = Session(Log($"Time [s];Cell 1 [V];Cell 2 [V];Current [A];{header}", row => $"{row * 2}", row => string.Create(CultureInfo.InvariantCulture, $";{7.55 - (0.005 * row):F3}")));

        Assert.Null(session.Samples[ChannelKey.PackVoltage]);
        Assert.Equal(2, session.Samples.CellCount);
    }

    [Theory]
    [InlineData("Bleed current [mA]", 150)]
    [InlineData("Courant moyen [A]", 0.7)]
    [InlineData("Ingangsstroom [A]", 0.9)]
    [InlineData("C-rate [C]", 0.5)]
    [InlineData("Größte Zellenspannung [V]", 3.8)]
    [InlineData("weakest cell [V]", 3.7)]
    [InlineData("Cut-off voltage [V]", 4.2)]
    public void What_a_header_names_otherwise_is_left_out(string header, double value)
    {
        SampleSeries samples = Session(Log($"Time [s];Cell 1 [V];Cell 2 [V];Current [A];{header}", row => $"{row * 2}", row => string.Create(CultureInfo.InvariantCulture, $";{(row < 3 ? 0 : value)}"))).Samples;

        Assert.Equal(1.5m, samples[ChannelKey.Current]!.ToDecimals().Last());
        Assert.Equal(2, samples.CellCount);
        Assert.Null(samples[ChannelKey.Temperature(1)]);
    }

    [Theory]
    [InlineData("laadstroom A", "ontlaadstroom A")]
    [InlineData("charge current [A]", "discharge current [A]")]
    public void A_guide_that_was_written_for_two_currents_reads_as_the_log_was_read(string inward, string outward)
    {
        string log = Log($"time s;cell 1 V;cell 2 V;{outward};{inward}", row => $"{row * 2}", _ => ";0.00", swap: true);
        ReadResult result = Logs.ReadText(log);
        var guide = Guides.ReadingGuide.Of(result.Reading!, "log.csv");

        ReadResult again = LogReader.Read(new MemoryStream(System.Text.Encoding.UTF8.GetBytes(log)), new LogSource("log.csv", DateTimeOffset.UnixEpoch), new ReadOptions(null, TimeZoneInfo.Utc, Guide: guide));

        Assert.Equal(result.Sessions.Single().Samples[ChannelKey.Current]!.ToDecimals(), again.Sessions.Single().Samples[ChannelKey.Current]!.ToDecimals());
        Assert.Contains(result.Reading!.Columns, column => column.Meaning == ColumnMeaning.CurrentOut);
    }

    [Fact]
    public void Sensors_are_numbered_as_their_headers_say()
    {
        SampleSeries samples = Session(Log("Time [s];Cell 1 [V];Cell 2 [V];Current [A];temperature 2 [°C];temperature 1 [°C]", row => $"{row * 2}", _ => ";30.5;22.5")).Samples;

        Assert.Equal(22.5m, samples[ChannelKey.Temperature(1)]!.ToDecimals().First());
        Assert.Equal(30.5m, samples[ChannelKey.Temperature(2)]!.ToDecimals().First());
    }

    [Fact]
    public void Roman_numbers_go_to_six_where_the_unit_is_in_brackets()
    {
        string[] roman = ["I", "II", "III", "IV", "V", "VI"];
        string[] rows = [.. Enumerable.Range(0, Rows).Select(row => string.Create(CultureInfo.InvariantCulture, $"{row * 2};{string.Join(';', roman.Select((_, cell) => (3.7 + (0.001 * row) + (0.002 * cell)).ToString("F3", CultureInfo.InvariantCulture)))}"))];

        ReadResult result = Logs.ReadText($"Time [s];{string.Join(';', roman.Select(number => $"Cell {number} [V]"))}\n{string.Join('\n', rows)}\n");

        Assert.Equal(6, Assert.Single(result.Sessions).Samples.CellCount);
    }

    [Theory]
    [InlineData("n/a")]
    [InlineData("--")]
    [InlineData("")]
    public void A_first_column_that_is_not_the_time_may_lack_a_reading(string missing)
    {
        string[] rows = [.. Enumerable.Range(0, Rows).Select(row => string.Create(CultureInfo.InvariantCulture, $"{(row == 20 ? missing : row < 3 ? "0.00" : "1.50")};{row * 2};{3.7 + (0.001 * row) + (row < 3 ? 0 : 0.02):F3};{3.702 + (0.001 * row) + (row < 3 ? 0 : 0.02):F3}"))];

        ReadResult result = Logs.ReadText("Current [A];Time [s];Cell 1 [V];Cell 2 [V]\n" + string.Join('\n', rows) + "\n");

        Assert.Null(Assert.Single(result.Sessions).Samples[ChannelKey.Current]!.ToDecimals().ElementAt(20));
        Assert.Equal(Rows, result.Sessions[0].Samples.Count);
    }

    // A counter that counts the same way whatever flows has no sign to store.
    [Fact]
    public void A_counter_without_a_sign_is_left_out_of_a_log_that_goes_both_ways()
    {
        double counted = 0;
        string[] rows = [.. Enumerable.Range(0, 120).Select(row =>
        {
            double amps = row < 90 ? -2 : 2;
            counted += 2 * 10 / 3.6;
            double volts = 4.1 - (0.002 * Math.Min(row, 90)) + (0.002 * Math.Max(0, row - 90)) + (0.01 * amps);
            return string.Create(CultureInfo.InvariantCulture, $"{row * 10};{amps:F2};{volts:F3};{volts - 0.003:F3};{counted:F0}");
        })];

        ReadResult result = Logs.ReadText("Time [s];Current [A];Cell 1 [V];Cell 2 [V];Charge [mAh]\n" + string.Join('\n', rows) + "\n");

        Assert.All(result.Sessions, session => Assert.Null(session.Samples[ChannelKey.Charge]));
        Assert.Contains(result.Problems, problem => problem.Code == "charge-sign");
    }

    private static SessionLog Session(string log)
    {
        ReadResult result = Logs.ReadText(log);
        Assert.False(result.Refused, string.Join("\n", result.Problems));
        return Assert.Single(result.Sessions);
    }

    private static string Log(string header, Func<int, string> time, Func<int, string> more, bool swap = false) => header + "\n" + string.Concat(Enumerable.Range(0, Rows).Select(row =>
    {
        double volts = 3.7 + (0.001 * row) + (row < 3 ? 0 : 0.025);
        string amps = row < 3 ? "0.00" : "1.50";
        return string.Create(CultureInfo.InvariantCulture, $"{time(row)};{volts:F3};{volts + 0.002:F3}{(swap ? $"{more(row)};{amps}" : $";{amps}{more(row)}")}\n");
    }));
}
