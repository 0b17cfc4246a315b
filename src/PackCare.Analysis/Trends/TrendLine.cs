using PackCare.Analysis.Assessments;
using PackCare.Analysis.Statistics;
using PackCare.Core.Estimates;

namespace PackCare.Analysis.Trends;

/// <summary>Fits a line to observations over time.</summary>
internal static class TrendLine
{
    /// <summary>How many observations a trend takes.</summary>
    public const int Needed = 5;

    /// <summary>Over how many days they must reach.</summary>
    public const double NeededDays = 14;

    /// <summary>Huber's constant: 95 % as efficient as plain least squares where the errors are normal (Huber 1964, Ann. Math. Stat. 35, 73-101).</summary>
    public const double Huber = 1.345;

    /// <summary>Fits; too few observations, or too short a time, are an outcome.</summary>
    /// <param name="points">In order of time.</param>
    public static Trend Fit(IReadOnlyList<WeightedPoint> points) => Fit(points, out _);

    /// <summary>Fits, and tells with what share of its weight each observation counted (1 for one in line, less for an outlier).</summary>
    public static Trend Fit(IReadOnlyList<WeightedPoint> points, out IReadOnlyList<double> shares)
    {
        shares = [.. points.Select(_ => 1.0)];
        double days = points.Count == 0 ? 0 : (points[^1].At - points[0].At).TotalDays;
        if (points.Count < Needed || days < NeededDays)
        {
            return new Trend.TooLittleData(
                points.Count,
                Needed,
                points.Count < Needed
                    ? $"{points.Count} of {Needed} readings that a trend takes"
                    : $"the readings span {days:0.#} of {NeededDays:0} days that a trend takes");
        }

        return Knee.Find([.. points.Select(point => (point.At - points[0].At).TotalDays)], [.. points.Select(point => point.Value)], [.. points.Select(point => Math.Pow(point.StandardError, -2))]) is { } bend
            ? Since(points, bend, ref shares)
            : Line(points, ref shares);
    }

    // Before the bend the readings tell of another time; they are kept and count for the line before, not for this one.
    private static Trend Since(IReadOnlyList<WeightedPoint> points, int bend, ref IReadOnlyList<double> shares)
    {
        IReadOnlyList<double> late = [.. points.Skip(bend).Select(_ => 1.0)];
        Trend trend = Line([.. points.Skip(bend)], ref late);
        shares = [.. shares.Take(bend), .. late];
        return trend is Trend.Fitted line ? line with { Knee = points[bend].At } : trend;
    }

    private static Trend Line(IReadOnlyList<WeightedPoint> points, ref IReadOnlyList<double> shares)
    {
        DateTimeOffset origin = points[0].At;
        double[] x = [.. points.Select(point => (point.At - origin).TotalDays)];
        double[] y = [.. points.Select(point => point.Value)];
        if (RobustLine.Fit(x, y, [.. points.Select(point => point.StandardError)], Huber) is not { } line)
        {
            return new Trend.TooLittleData(points.Count, Needed, "the readings all fall on one moment");
        }

        shares = line.Shares;
        return new Trend.Fitted(
            origin,
            Estimates.FromT(line.Intercept, Math.Sqrt(line.InterceptVariance), line.DegreesOfFreedom, points.Count),
            Estimates.FromT(line.Slope, Math.Sqrt(line.SlopeVariance), line.DegreesOfFreedom, points.Count),
            line.Covariance,
            line.DegreesOfFreedom,
            TheilSen.Slope(x, y));
    }

    /// <summary>The fitted figure at a moment, with the interval of the line (not of a new reading).</summary>
    public static Estimate At(Trend.Fitted trend, DateTimeOffset moment)
    {
        double days = (moment - trend.Origin).TotalDays;
        double variance = Square(trend.Intercept.StandardError) + (2 * days * trend.InterceptSlopeCovariance) + (days * days * Square(trend.SlopePerDay.StandardError));
        return Estimates.FromT(
            trend.Intercept.Value + (days * trend.SlopePerDay.Value),
            Math.Sqrt(Math.Max(0, variance)),
            trend.ResidualDegreesOfFreedom,
            trend.Intercept.Count);
    }

    private static double Square(double value) => value * value;
}
