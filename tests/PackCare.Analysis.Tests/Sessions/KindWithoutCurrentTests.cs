using PackCare.Analysis.Tests.Support;
using PackCare.Core.Packs;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Tests.Sessions;

/// <summary>Where no current was logged, the voltage tells what a session did. Invented voltages.</summary>
public sealed class KindWithoutCurrentTests
{
    [Theory]
    [InlineData(3.70, 4.20, SessionKind.Charge)]
    [InlineData(4.20, 3.40, SessionKind.Discharge)]
    [InlineData(4.20, 3.82, SessionKind.Storage)]
    [InlineData(3.60, 3.82, SessionKind.Storage)]
    [InlineData(3.82, 3.83, SessionKind.Rest)]
    [InlineData(3.45, 3.53, SessionKind.Rest)]
    public void It_goes_by_where_the_cells_went(double from, double to, SessionKind kind) => Assert.Equal(kind, Of(Series.Of(Seconds, null, [Line(from, to), Line(from, to)])));

    // There and back: what the cells did on the way counts, unless they only recover after a load.
    [Theory]
    [InlineData(3.73, 3.94, 3.72, SessionKind.Mixed)]
    [InlineData(4.15, 3.60, 4.10, SessionKind.Mixed)]
    [InlineData(4.10, 3.92, 4.00, SessionKind.Discharge)]
    [InlineData(3.60, 3.78, 3.70, SessionKind.Charge)]
    [InlineData(4.20, 3.30, 3.60, SessionKind.Discharge)]
    [InlineData(3.82, 3.86, 3.82, SessionKind.Rest)]
    public void What_they_did_on_the_way_counts_too(double from, double over, double to, SessionKind kind)
    {
        double[] volts = [.. Line(from, over).Where((_, i) => i % 2 == 0), .. Line(over, to).Where((_, i) => i % 2 == 0).Skip(1)];

        Assert.Equal(kind, Of(Series.Of(Seconds, null, [volts, volts])));
    }

    // A load, steady or in pulses, from which the cells recover: nothing was charged.
    [Theory]
    [InlineData(1)]
    [InlineData(5)]
    public void Cells_that_recover_from_a_load_were_discharged(int pulse)
    {
        double[] volts = [.. Enumerable.Range(0, 61).Select(i => Math.Round(4.15 - (0.0015 * i) - (i is > 3 and < 55 && (pulse == 1 || i / pulse % 2 == 0) ? 0.35 : 0), 3))];

        Assert.Equal(SessionKind.Discharge, Of(Series.Of(Seconds, null, [volts, volts])));
    }

    // One damaged value, up or down, is no charge and no load.
    [Theory]
    [InlineData(3.2)]
    [InlineData(4.2)]
    public void A_single_value_tells_nothing(double odd)
    {
        double[] volts = Line(3.82, 3.82);
        volts[30] = odd;

        Assert.Equal(SessionKind.Rest, Of(Series.Of(Seconds, null, [volts, volts])));
    }

    [Theory]
    [InlineData(11.1, 12.6, SessionKind.Charge)]
    [InlineData(12.6, 10.2, SessionKind.Discharge)]
    [InlineData(11.4, 11.5, SessionKind.Rest)]
    public void Without_cells_it_goes_by_the_pack(double from, double to, SessionKind kind) => Assert.Equal(kind, Of(Series.Of(Seconds, null, [], Line(from, to))));

    [Theory]
    [InlineData(3.80, 4.00, 0.2, SessionKind.Charge)]
    [InlineData(3.80, 3.60, -0.1, SessionKind.Discharge)]
    [InlineData(3.80, 3.81, 0.1, SessionKind.Rest)]
    [InlineData(3.80, 4.00, -0.1, SessionKind.Rest)]
    public void A_current_of_a_digit_or_two_counts_where_the_cells_went_with_it(double from, double to, double amps, SessionKind kind) =>
        Assert.Equal(kind, Of(Series.Of(Seconds, [.. Seconds.Select((_, i) => i % 7 == 0 ? 0 : amps)], [Line(from, to), Line(from, to)], ampereDecimals: 1)));

    private static double[] Seconds => [.. Enumerable.Range(0, 61).Select(i => i * 60.0)];

    private static double[] Line(double from, double to) => [.. Enumerable.Range(0, 61).Select(i => Math.Round(from + ((to - from) * i / 60), 3))];

    private static SessionKind Of(Core.Samples.SampleSeries samples) => SessionSummarizer.Summarize(samples, Chemistry.LiPo).Kind;
}
