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

        DrawnCharge? drawn = DischargeCharge.ToCutoff(Series.Of(seconds, [.. seconds.Select(_ => -2.0)], [volts], voltDecimals: 6), 2.7);

        Assert.Equal(5.0 / 3, drawn!.Value.ToCrossingAh, 1e-5);
    }

    [Fact]
    public void Counted_to_the_first_sample_below_the_cut_off_it_is_more_by_the_rest_of_that_interval()
    {
        // 2 A, samples every 100 s, 2.75 V at 3000 s and 2.65 V at 3100 s: crossed half way, at 3050 s.
        double[] seconds = [0, 1000, 2000, 2900, 3000, 3100, 3200];
        double[] volts = [3.7, 3.4, 3.1, 2.85, 2.75, 2.65, 2.95];
        double[] amperes = [-2, -2, -2, -2, -2, -2, 0];

        DrawnCharge drawn = DischargeCharge.ToCutoff(Series.Of(seconds, amperes, [volts], voltDecimals: 6), 2.7)!.Value;

        Assert.Equal(2 * 3050 / 3600.0, drawn.ToCrossingAh, 1e-9);
        Assert.Equal(2 * 3100 / 3600.0, drawn.ToFirstSampleAh, 1e-9);
    }

    [Fact]
    public void Without_reaching_the_cut_off_there_is_no_figure() =>
        Assert.Null(DischargeCharge.ToCutoff(Series.Of([0, 60, 120], [-1, -1, -1], [[3.9, 3.8, 3.7]]), 2.7));
}
