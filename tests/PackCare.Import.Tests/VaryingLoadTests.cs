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
}
