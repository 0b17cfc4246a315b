using PackCare.Analysis.Assessments;

namespace PackCare.Report.Charts;

/// <summary>A fitted trend as points of a line and of its 95 % band.</summary>
internal sealed record TrendLine(IReadOnlyList<double> Xs, IReadOnlyList<double> Ys, IReadOnlyList<double> Low, IReadOnlyList<double> High)
{
    private const int Steps = 40;

    /// <summary>Samples a trend over a span of days.</summary>
    /// <remarks>
    /// The band is that of the line, not of single readings: s(x)^2 = var(a) + 2 x cov(a, b) + x^2 var(b), times the
    /// Student factor, which is read back from the interval of the intercept, so that band and stated interval agree.
    /// </remarks>
    public static TrendLine Of(Trend.Fitted trend, Span days, TimeSpan offset)
    {
        double origin = Scale.Day(trend.Origin, offset);
        double t = StudentFactor(trend);
        var xs = new double[Steps + 1];
        var ys = new double[Steps + 1];
        var low = new double[Steps + 1];
        var high = new double[Steps + 1];
        for (int i = 0; i <= Steps; i++)
        {
            xs[i] = days.Low + (days.Length * i / Steps);
            double x = xs[i] - origin;
            double variance = Square(trend.Intercept.StandardError) + (2 * x * trend.InterceptSlopeCovariance) + Square(x * trend.SlopePerDay.StandardError);
            double half = t * Math.Sqrt(Math.Max(0, variance));
            ys[i] = trend.Intercept.Value + (trend.SlopePerDay.Value * x);
            low[i] = ys[i] - half;
            high[i] = ys[i] + half;
        }

        return new TrendLine(xs, ys, low, high);
    }

    private static double StudentFactor(Trend.Fitted trend)
    {
        if (trend.Intercept.StandardError > 0)
        {
            return (trend.Intercept.High - trend.Intercept.Low) / 2 / trend.Intercept.StandardError;
        }

        return trend.SlopePerDay.StandardError > 0
            ? (trend.SlopePerDay.High - trend.SlopePerDay.Low) / 2 / trend.SlopePerDay.StandardError
            : 0;
    }

    private static double Square(double value) => value * value;
}
