using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Core.Samples;

namespace PackCare.Import.Tests;

/// <summary>Which way the charge flows under a load that never stands still. Two invented cells with a resistance and a nearly straight rest voltage.</summary>
public class VaryingLoadTests
{
    public static TheoryData<double, double> Swings => new() { { 1.2, 7 }, { 1.5, 11 }, { 0.4, 5 }, { 1.0, 23 }, { 1.8, 3 } };

    [Theory]
    [MemberData(nameof(Swings))]
    public void A_signed_discharge_stays_one(double swing, double period)
    {
        ReadResult result = Logs.ReadText(Log(swing, period, discharging: true, signed: true));

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.True(result.Sessions[0].Samples[ChannelKey.Current]!.ToDecimals().Min() < -2);
    }

    [Theory]
    [MemberData(nameof(Swings))]
    public void A_discharge_that_is_logged_without_a_sign_is_turned_round_or_refused(double swing, double period)
    {
        ReadResult result = Logs.ReadText(Log(swing, period, discharging: true, signed: false));

        Assert.True(result.Refused || result.Sessions[0].Samples[ChannelKey.Current]!.ToDecimals().Min() < -2, string.Join("\n", result.Problems));
    }

    [Theory]
    [MemberData(nameof(Swings))]
    public void A_charge_stays_one(double swing, double period)
    {
        ReadResult result = Logs.ReadText(Log(swing, period, discharging: false, signed: false));

        Assert.True(result.Refused || result.Sessions[0].Samples[ChannelKey.Current]!.ToDecimals().Max() > 2, string.Join("\n", result.Problems));
    }

    [Fact]
    public void A_coarse_meter_that_flickers_between_two_steps_shows_no_missing_sign()
    {
        // 400 and 500 mA in turn, by the meter and not by the pack.
        string[] rows = [.. Enumerable.Range(0, 200).Select(row => string.Create(CultureInfo.InvariantCulture, $"{row * 10};{(row < 10 ? 0 : (row * 7 % 5) < 2 ? 400 : 500)};{3.7 + (row < 10 ? 0 : 0.01 + (0.001 * row)) + (0.004 * ((row * 13 % 7) - 3) / 3.0):F4};{3.702 + (row < 10 ? 0 : 0.01 + (0.001 * row)) + (0.004 * ((row * 13 % 7) - 3) / 3.0):F4}"))];

        ReadResult result = Logs.ReadText($"Time (s);Current (mA);Cell 1 (V);Cell 2 (V)\n{string.Join('\n', rows)}\n");

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.Equal(0.5m, result.Sessions[0].Samples[ChannelKey.Current]!.ToDecimals().Max());
    }

    [Fact]
    public void A_unit_under_which_a_cell_would_have_ohms_is_refused()
    {
        // Amperes, and a time in microseconds: as milliamperes and milliseconds they come to the same charge.
        double charge = 0;
        string[] rows = [.. Enumerable.Range(0, 120).Select(row =>
        {
            double amps = row < 6 ? 0 : -6.98 + (0.02 * (row % 5));
            charge += amps * 2 / 3600;
            return string.Create(CultureInfo.InvariantCulture, $"{row * 2_000_000L};{amps:F3};{3720 + (amps * 14) + (charge * 300):F0};{3724 + (amps * 14) + (charge * 300):F0};{3731 + (amps * 14) + (charge * 300):F0}");
        })];

        ReadResult result = Logs.ReadText(string.Join('\n', rows) + "\n");

        Assert.True(result.Refused);
    }

    private static string Log(double swing, double period, bool discharging, bool signed)
    {
        var rows = new List<string>();
        double charge = 0;
        for (int row = 0; row < 180; row++)
        {
            double amps = row < 11 || row >= 175 ? 0 : (3.2 + (swing * Math.Sin(row * 2 * Math.PI / period))) * (discharging ? -1 : 1);
            double volts = (discharging ? 4.188 : 3.62) + (0.2 * charge) + (0.012 * amps);
            rows.Add(string.Create(CultureInfo.InvariantCulture, $"{row * 20};{(signed ? amps : Math.Abs(amps)):F3};{2 * volts:F3};{volts:F3};{volts - 0.0004:F3}"));
            charge += amps * 20 / 3600;
        }

        return $"Laufzeit (s);Strom (A);Packspannung (V);Zelle1 (V);Zelle2 (V)\n{string.Join('\n', rows)}\n";
    }

    [Fact]
    public void A_signed_discharge_down_to_the_knee_stays_one()
    {
        var rows = new List<string>();
        double charge = 0;
        for (int row = 0; row < 230; row++)
        {
            double amps = row < 12 || row >= 215 ? 0 : -(6.7 + (2.9 * Math.Sin(row * 2 * Math.PI / 7)));
            double left = 1 + (charge / 12);
            double volts = 3.3 + (0.6 * left) + (0.25 * Math.Sqrt(Math.Max(0, left))) - (0.02 / (left + 0.03)) + (0.007 * amps);
            rows.Add(string.Create(CultureInfo.InvariantCulture, $"{row * 30};{amps:F3};{volts:F3};{volts - 0.012:F3}"));
            charge += amps * 30 / 3600;
        }

        ReadResult result = Logs.ReadText($"Time (s);Current (A);Cell 1 (V);Cell 2 (V)\n{string.Join('\n', rows)}\n");

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.True(result.Sessions[0].Samples[ChannelKey.Current]!.ToDecimals().Min() < -9);
    }

    [Fact]
    public void A_charge_under_which_one_of_two_cells_fails_stays_one()
    {
        string[] rows = [.. Enumerable.Range(0, 120).Select(row => string.Create(CultureInfo.InvariantCulture, $"{row * 10};{(row < 6 ? 0 : 4):F2};{(row < 60 ? 3.8 + (0.001 * row) : 3.86 - (0.02 * (row - 60))) + (row < 6 ? 0 : 0.02):F3};{3.8 + (0.001 * row) + (row < 6 ? 0 : 0.02):F3};{Math.Max(0, row - 5.5) * 4 / 360:F3}"))];

        ReadResult result = Logs.ReadText($"Time (s);Current (A);Cell 1 (V);Cell 2 (V);Charge (Ah)\n{string.Join('\n', rows)}\n");

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.Equal(4m, result.Sessions[0].Samples[ChannelKey.Current]!.ToDecimals().Max());
    }

    [Fact]
    public void A_falling_discharge_at_a_held_voltage_is_not_turned_into_a_charge()
    {
        string[] rows = [.. Enumerable.Range(0, 44).Select(row => string.Create(CultureInfo.InvariantCulture, $"{row * 5};{-0.87 * Math.Exp(-row / 9.0):F3};3.600;3.{600 + (row % 2)}"))];

        ReadResult result = Logs.ReadText($"Time (s);Current (A);Cell 1 (V);Cell 2 (V)\n{string.Join('\n', rows)}\n");

        Assert.True(result.Refused || result.Sessions[0].Samples[ChannelKey.Current]!.ToDecimals().Min() < -0.8m, string.Join("\n", result.Problems));
    }

    [Theory]
    [InlineData(2)]
    [InlineData(1)]
    public void Opposite_pulses_of_a_current_without_a_sign_refuse_the_log(int length)
    {
        string[] rows = [.. Enumerable.Range(0, 120).Select(row =>
        {
            bool pulse = row > 20 && row % 15 < length;
            double amps = row < 5 ? 0 : pulse ? 1.8 : 3.3;
            return string.Create(CultureInfo.InvariantCulture, $"{row * 10};{amps:F2};{3.75 + (0.0005 * row) + (0.006 * (pulse ? -amps : amps)):F3};{3.752 + (0.0005 * row) + (0.006 * (pulse ? -amps : amps)):F3}");
        })];

        ReadResult result = Logs.ReadText($"Time (s);Current (A);Cell 1 (V);Cell 2 (V)\n{string.Join('\n', rows)}\n");

        Assert.Contains(result.Problems, problem => problem is { Code: "direction-unclear", Level: ProblemLevel.Refusal });
    }

    [Fact]
    public void Cells_that_rise_and_fall_under_a_steady_current_show_that_its_sign_is_missing()
    {
        string[] rows = [.. Enumerable.Range(0, 80).Select(row => string.Create(CultureInfo.InvariantCulture, $"{row * 2};4.40;{(row < 40 ? 4.10 + (0.002 * row) : 4.10 - (0.002 * (row - 40))):F3}"))];

        Assert.Contains(Logs.ReadText($"Time (s);Current (A);Cell 1 (V)\n{string.Join('\n', rows)}\n").Problems, problem => problem is { Code: "direction-unclear", Level: ProblemLevel.Refusal });
    }

    [Fact]
    public void Modes_give_a_current_its_sign_without_a_header_as_well()
    {
        string[] rows = [.. Enumerable.Range(0, 120).Select(row => string.Create(CultureInfo.InvariantCulture, $"{row * 10};{(row % 60 < 4 ? 0 : 3.2):F2};{3.8 + (0.0015 * (row < 60 ? row : 120 - row)) + (row % 60 < 4 ? 0 : row < 60 ? 0.03 : -0.03):F3};{3.803 + (0.0015 * (row < 60 ? row : 120 - row)) + (row % 60 < 4 ? 0 : row < 60 ? 0.03 : -0.03):F3};{(row % 60 < 4 ? "Pause" : row < 60 ? "Laden" : "Entladen")}"))];

        ReadResult result = Logs.ReadText(string.Join('\n', rows) + "\n");

        Assert.True(result.Refused || result.Sessions.SelectMany(session => session.Samples[ChannelKey.Current]!.ToDecimals()).Where((value, row) => Math.Sign(value ?? 0) != (row % 60 < 4 ? 0 : row < 60 ? 1 : -1)).ToList() is [], string.Join("\n", result.Problems));
    }
}
