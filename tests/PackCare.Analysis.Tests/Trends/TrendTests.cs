using CsCheck;
using PackCare.Analysis.Assessments;
using PackCare.Analysis.Trends;

namespace PackCare.Analysis.Tests.Trends;

public sealed class TrendTests
{
    private static readonly DateTimeOffset Start = new(2025, 1, 1, 0, 0, 0, TimeSpan.Zero);

    [Theory]
    [InlineData(4, 60, "4 of 5")]
    [InlineData(9, 8, "span 8 of 14 days")]
    public void Too_few_readings_or_too_short_a_time_is_an_outcome(int count, double days, string reason)
    {
        Trend.TooLittleData few = Assert.IsType<Trend.TooLittleData>(TrendLine.Fit([.. Enumerable.Range(0, count).Select(i => Point(i * days / (count - 1), i))]));

        Assert.Contains(reason, few.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void Readings_on_a_line_give_the_line()
    {
        Trend.Fitted line = Fit(Enumerable.Range(0, 8).Select(i => Point(i * 10, 4 + (0.02 * i * 10))));

        Assert.Equal(0.02, line.SlopePerDay.Value, 1e-9);
        Assert.Equal(0.02, line.RobustSlopePerDay, 1e-9);
        Assert.Null(line.Knee);
    }

    [Fact]
    public void The_moment_of_origin_changes_no_slope() =>
        Gen.Select(Gen.Double[-1, 1].Array[6, 30], Gen.Int[0, 20_000]).Sample((noise, shift) =>
        {
            WeightedPoint[] points = [.. noise.Select((value, i) => Point(i * 7, 10 + (0.01 * i) + value))];
            WeightedPoint[] later = [.. points.Select(point => point with { At = point.At.AddDays(shift) })];
            return Math.Abs(Fit(points).SlopePerDay.Value - Fit(later).SlopePerDay.Value) < 1e-9;
        });

    [Fact]
    public void A_bend_is_found_where_it_is_and_the_line_is_that_of_the_time_since()
    {
        Trend.Fitted line = Fit(Enumerable.Range(0, 30).Select(i => Point(i * 10, 5 + (i < 15 ? 0 : 0.01 * (i - 15) * 10) + (0.02 * (i % 3)))));

        Assert.NotNull(line.Knee);
        Assert.InRange((line.Knee.Value - Start).TotalDays, 120, 180);
        Assert.Equal(0.01, line.SlopePerDay.Value, 0.001);
    }

    [Fact]
    public void Noise_about_a_line_has_no_bend()
    {
        var random = new Random(4);

        int bends = Enumerable.Range(0, 200).Count(_ => Fit(Enumerable.Range(0, 25).Select(i => Point(i * 10, 5 + (0.001 * i) + (0.1 * (random.NextDouble() + random.NextDouble() - 1))))).Knee is not null);

        Assert.InRange(bends, 0, 5);
    }

    [Fact]
    public void The_limit_date_lies_where_the_line_meets_the_limit_and_its_interval_where_the_band_does()
    {
        Trend.Fitted line = Fit(Enumerable.Range(0, 12).Select(i => Point(i * 20, 100 - (0.05 * i * 20) + (i % 2 == 0 ? 0.3 : -0.3))));

        LimitDate.Ahead date = Assert.IsType<LimitDate.Ahead>(LimitCrossing.Find(line, 80, rising: false, Start.AddDays(230)));

        Assert.Equal(400, (date.Expected - Start).TotalDays, 15.0);
        var lowBand = TrendLine.At(line, date.Low);
        var highBand = TrendLine.At(line, date.High!.Value);
        Assert.Equal(80, lowBand.Low, 0.01);
        Assert.Equal(80, highBand.High, 0.01);
    }

    [Fact]
    public void A_line_the_other_way_or_too_slow_is_not_within_five_years()
    {
        Trend.Fitted flat = Fit(Enumerable.Range(0, 12).Select(i => Point(i * 20, 100 - (0.0001 * i))));

        Assert.Equal(5, Assert.IsType<LimitDate.NotWithin>(LimitCrossing.Find(flat, 80, rising: false, Start.AddDays(230))).Years);
        Assert.IsType<LimitDate.NotWithin>(LimitCrossing.Find(flat, 200, rising: true, Start.AddDays(230)));
    }

    [Fact]
    public void A_slope_that_may_be_none_gives_a_date_without_an_upper_end()
    {
        Trend.Fitted line = Fit(Enumerable.Range(0, 10).Select(i => Point(i * 20, 100 - (0.02 * i * 20) + (i % 2 == 0 ? 6 : -6))));

        LimitDate date = LimitCrossing.Find(line, 80, rising: false, Start.AddDays(190));

        LimitDate.Ahead ahead = Assert.IsType<LimitDate.Ahead>(date);
        Assert.Null(ahead.High);
        Assert.True(ahead.Low < ahead.Expected);
    }

    private static Trend.Fitted Fit(IEnumerable<WeightedPoint> points) => Assert.IsType<Trend.Fitted>(TrendLine.Fit([.. points]));

    private static WeightedPoint Point(double day, double value) => new(Start.AddDays(day), value, 0.1);
}
