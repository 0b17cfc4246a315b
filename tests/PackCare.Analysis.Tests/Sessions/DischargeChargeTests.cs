using PackCare.Analysis.Tests.Support;

namespace PackCare.Analysis.Tests.Sessions;

public sealed class DischargeChargeTests
{
    [Fact]
    public void Charge_is_counted_to_the_moment_at_which_the_cut_off_is_crossed()
    {
        // 2 A for 3600 s, falling evenly from 3.7 to 2.5 V: 2.7 V is crossed at 5/6 of the time, after 5/3 Ah.
        double[] seconds = [.. Enumerable.Range(0, 101).Select(i => i * 36.0)];
        double[] volts = [.. seconds.Select(t => 3.7 - (1.2 * t / 3600))];

        double? ampereHours = DischargeCharge.ToCutoff(Series.Of(seconds, [.. seconds.Select(_ => -2.0)], [volts], voltDecimals: 6), 2.7);

        Assert.Equal(5.0 / 3, ampereHours!.Value, 1e-5);
    }

    [Fact]
    public void Without_reaching_the_cut_off_there_is_no_figure() =>
        Assert.Null(DischargeCharge.ToCutoff(Series.Of([0, 60, 120], [-1, -1, -1], [[3.9, 3.8, 3.7]]), 2.7));
}
