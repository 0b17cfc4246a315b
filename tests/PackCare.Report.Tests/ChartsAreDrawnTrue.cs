using System.Globalization;
using CsCheck;
using PackCare.Analysis.Assessments;
using PackCare.Core.Estimates;
using PackCare.Report.Charts;
using PackCare.Report.Pages;

namespace PackCare.Report.Tests;

public class ChartsAreDrawnTrue
{
    private static readonly DateTimeOffset Origin = new(2026, 1, 1, 0, 0, 0, TimeSpan.Zero);

    // NIST StRD, Norris, certified values. The band of a fitted line is narrowest at the mean of x, where its standard
    // error is s / sqrt(n); the mean itself follows from the certified errors: var(a) = s^2/n + mean^2 var(b).
    [Fact]
    public void The_band_of_the_Norris_line_has_its_certified_width()
    {
        const double intercept = -0.262323073774029;
        const double interceptError = 0.232818234301152;
        const double slope = 1.00211681802045;
        const double slopeError = 0.000429796848199937;
        const double residual = 0.884796396144373;
        const int count = 36;
        const double t = 2.0322445; // Student, 34 degrees of freedom, 0.975; any table
        double mean = Math.Sqrt(((interceptError * interceptError) - (residual * residual / count)) / (slopeError * slopeError));
        var trend = new Trend.Fitted(
            Origin,
            new Estimate(intercept, interceptError, intercept - (t * interceptError), intercept + (t * interceptError), 0.95, count),
            new Estimate(slope, slopeError, slope - (t * slopeError), slope + (t * slopeError), 0.95, count),
            -mean * slopeError * slopeError,
            count - 2,
            slope);
        double at = Scale.Day(Origin, TimeSpan.Zero);

        TrendLine line = TrendLine.Of(trend, new Span(at, at + (2 * mean)), TimeSpan.Zero);

        double Half(int i) => (line.High[i] - line.Low[i]) / 2;
        Assert.Equal(t * interceptError, Half(0), 1e-9);
        Assert.Equal(intercept + (slope * mean), line.Ys[20], 1e-6);
        Assert.Equal(t * residual / Math.Sqrt(count), Half(20), 1e-6);
        Assert.Equal(20, Enumerable.Range(0, line.Xs.Count).MinBy(Half));
    }

    [Fact]
    public void Thinning_keeps_the_ends_and_every_extreme() =>
        Gen.Select(Gen.Double[-5, 5].Array[10, 4000], Gen.Int[4, 60]).Sample((values, buckets) =>
        {
            int[] rows = Thinning.Rows([values], buckets);
            double[] kept = Thinning.Pick(values, rows);
            return rows.SequenceEqual(rows.Distinct().Order())
                && rows[0] == 0 && rows[^1] == values.Length - 1
                && kept.Max() == values.Max() && kept.Min() == values.Min()
                && rows.Length <= Math.Max(buckets * 3, buckets * 2) + 2;
        });

    [Fact]
    public void A_spike_of_one_sample_in_a_hundred_thousand_is_drawn()
    {
        double[] values = new double[100_000];
        values[61_803] = 0.5;
        values[30_000] = double.NaN;
        double[] kept = Thinning.Pick(values, Thinning.Rows([values], 160));
        Assert.Contains(0.5, kept);
        Assert.True(kept.Length < 500);
    }

    [Fact]
    public void Sums_over_stretches_keep_mean_and_extremes() =>
        Gen.Double[-5, 5].Array[50, 2000].Sample(values =>
        {
            double[] xs = [.. Enumerable.Range(0, values.Length).Select(at => (double)at)];
            (double[] at, double[] means, double[] low, double[] high) = Thinning.Sums(xs, values, 48);
            return at.Length == 48 && low.Min() == values.Min() && high.Max() == values.Max()
                && Enumerable.Range(0, 48).All(i => low[i] <= means[i] + 1e-12 && means[i] <= high[i] + 1e-12)
                && at.SequenceEqual(at.Order());
        });

    [Fact]
    public void A_line_is_cut_where_it_leaves_the_picture_and_never_runs_along_its_edge()
    {
        double[] xs = [0, 1, 2, 3, 4, 5, 6, 7];
        double[] ys = [0, 2, 2, 0.5, double.NaN, -1, 3, 5];
        Assert.Equal(
            [(0, 0, true), (0.5, 1, false), (2 + (1.0 / 1.5), 1, true), (3, 0.5, false), (5.25, 0, true), (5.5, 1, false)],
            Sheet.Cut(xs, ys, new Span(0, 1)));
    }

    [Fact]
    public void A_cut_line_goes_through_the_points_of_the_whole_one() =>
        Gen.Double[-5, 5].Array[2, 40].Sample(ys =>
        {
            double[] xs = [.. Enumerable.Range(0, ys.Length).Select(at => (double)at)];
            var span = new Span(-2, 2);
            List<(double X, double Y, bool Start)> cut = [.. Sheet.Cut(xs, ys, span)];
            double Whole(double x)
            {
                int at = Math.Min((int)x, ys.Length - 2);
                return ys[at] + ((ys[at + 1] - ys[at]) * (x - at));
            }

            return cut.All(point => point.Y is >= -2 and <= 2 && Math.Abs(Whole(point.X) - point.Y) < 1e-9)
                && cut.Count(point => ys.Contains(point.Y)) >= ys.Count(span.Holds)
                && cut.Select(point => point.X).SequenceEqual(cut.Select(point => point.X).Order())
                && (cut.Count == 0 || cut[0].Start);
        });

    [Fact]
    public void Labels_never_cover_each_other_while_there_is_room() =>
        Gen.Float[0, 200].Array[1, 12].Sample(wanted =>
        {
            float[] at = Sheet.Spread([.. wanted.Order()], 13, 0, 200);
            return at.Zip(at.Skip(1), (a, b) => b - a).All(gap => gap >= 12.99f) && at.All(y => y is >= -0.01f and <= 200.01f);
        });

    [Fact]
    public void Lines_that_end_together_get_one_label_and_the_one_in_question_its_own()
    {
        EndLabel[] labels = [.. Enumerable.Range(1, 12).Select(cell => new EndLabel(0, cell == 7 ? 30 : cell * 0.1, cell == 7 ? "cell 7" : cell.ToString(CultureInfo.InvariantCulture), cell == 7))];
        Assert.Equal(["cell 7", "11 cells"], Sheet.Gather(labels, 2).Select(label => label.Text));
        Assert.Equal(["3", "2", "1"], Sheet.Gather([new(0, 1, "1", false), new(0, 5, "2", false), new(0, 9, "3", false)], 2).Select(label => label.Text));
        Assert.Equal(["1 2 3"], Sheet.Gather([new(0, 1, "2", false), new(0, 2, "1", false), new(0, 3, "3", false)], 2).Select(label => label.Text));
    }

    [Fact]
    public void Axes_are_marked_with_round_figures_and_the_unit_once() =>
        Gen.Select(Gen.Double[-1e4, 1e4], Gen.Double[1e-3, 1e4], Gen.Int[3, 8]).Sample((low, length, most) =>
        {
            var span = new Span(low, low + length);
            IReadOnlyList<AxisMark> marks = Scale.Figures(span, most, "V");
            return marks.Count >= 2 && marks.Count <= (most * 2) + 2
                && marks.All(mark => mark.At >= span.Low - (length * 1e-6) && mark.At <= span.High + (length * 1e-6))
                && marks.Count(mark => mark.Label.EndsWith(" V", StringComparison.Ordinal)) == 1
                && marks.Select(mark => mark.Label).Distinct().Count() == marks.Count;
        });

    [Theory]
    [InlineData("2026-01-01", 5, "2026-01-01 01-02 01-03 01-04 01-05 01-06")]
    [InlineData("2026-01-10", 150, "2026-02 2026-03 2026-04 2026-05 2026-06")]
    [InlineData("2024-06-01", 800, "2024-07 2025-01 2025-07 2026-01 2026-07")]
    public void Dates_are_written_year_first(string from, int days, string expected)
    {
        double low = Scale.Day(DateOnly.Parse(from, CultureInfo.InvariantCulture));
        Assert.Equal(expected, string.Join(' ', Scale.Dates(new Span(low, low + days), 7, DateText.In(DateOrder.YearFirst)).Select(mark => mark.Label)));
    }

    [Theory]
    [InlineData(20, "2026-01-21")]
    [InlineData(200, "2026-07")]
    [InlineData(2000, "2031")]
    public void A_forecast_is_no_finer_than_it_deserves(int days, string expected) =>
        Assert.Equal(expected, DateText.In(DateOrder.YearFirst).Coarse(Origin.AddDays(days), Origin.AddDays(days), Origin));

    [Theory]
    [InlineData(-0.004, 2, "0.00")]
    [InlineData(-1.25, 1, "\u22121.3")]
    [InlineData(1234.5, 0, "1235")]
    public void Figures_have_a_proper_minus_and_zero_has_none(double value, int digits, string expected) =>
        Assert.Equal(expected, Wording.Figure(value, digits));
}
