using PackCare.Analysis.Assessments;
using PackCare.Analysis.Statistics;

namespace PackCare.Analysis.Trends;

/// <summary>When a trend reaches a limit.</summary>
internal static class LimitCrossing
{
    /// <summary>How far ahead a line is trusted, in years.</summary>
    public const int HorizonYears = 5;

    private const double DaysPerYear = 365.25;

    /// <summary>
    /// The date, with the interval of Fieller (1954, J. R. Stat. Soc. B 16, 175-185): all dates t at which the line's own 95 % band
    /// holds the limit, (a + b t - L)^2 &lt;= t95^2 (Vaa + 2 t Vab + t^2 Vbb). Where the slope may be none, that set has no upper end.
    /// </summary>
    /// <param name="trend">The trend.</param>
    /// <param name="limit">The limit in the trend's unit.</param>
    /// <param name="rising">Whether the limit lies above (a resistance) or below (a capacity).</param>
    /// <param name="now">The moment from which it is ahead.</param>
    /// <param name="levelError">Standard error by which the whole line or the limit may be shifted, besides the line's own.</param>
    /// <param name="slowedDays">Days from the trend's origin to the limit if ageing slows down; the interval reaches at least so far.</param>
    public static LimitDate Find(Trend trend, double limit, bool rising, DateTimeOffset now, double levelError = 0, double? slowedDays = null)
    {
        if (trend is Trend.TooLittleData few)
        {
            return new LimitDate.TooLittleData(few.Reason);
        }

        var line = (Trend.Fitted)trend;
        double sign = rising ? 1 : -1;
        double slope = sign * line.SlopePerDay.Value;
        double gap = sign * (limit - line.Intercept.Value);
        double today = (now - line.Origin).TotalDays;
        double horizon = today + (HorizonYears * DaysPerYear);
        if (slope * today >= gap)
        {
            return new LimitDate.Passed();
        }

        double expected = slope > 0 ? gap / slope : double.PositiveInfinity;
        if (expected > horizon)
        {
            return new LimitDate.NotWithin(HorizonYears, line.SlopePerDay.Count);
        }

        double t = StudentTable.TwoSided(Estimates.Confidence, line.ResidualDegreesOfFreedom);
        double vaa = (line.Intercept.StandardError * line.Intercept.StandardError) + (levelError * levelError);
        double vbb = line.SlopePerDay.StandardError * line.SlopePerDay.StandardError;
        double vab = line.InterceptSlopeCovariance;
        // A x^2 - 2 B x + C <= 0 with x in days since the origin; vab carries the same sign for either direction.
        double a = (slope * slope) - (t * t * vbb);
        double b = (slope * gap) + (t * t * vab);
        double c = (gap * gap) - (t * t * vaa);
        double root = Math.Sqrt(Math.Max(0, (b * b) - (a * c)));
        if (a <= 0)
        {
            double only = a == 0 ? c / (2 * b) : (b - root) / a;
            double other = a == 0 ? only : (b + root) / a;
            bool already = (a * today * today) - (2 * b * today) + c <= 0;
            double earliest = already ? today : new[] { only, other }.Where(x => x >= today).DefaultIfEmpty(today).Min();
            return new LimitDate.Ahead(Date(line, expected), Date(line, Math.Min(earliest, expected)), null, line.SlopePerDay.Count);
        }

        // Beyond the horizon no date is told from none.
        double slowed = slowedDays ?? 0;
        double low = Math.Max(today, (b - root) / a);
        double high = (b + root) / a;
        return new LimitDate.Ahead(Date(line, expected), Date(line, Math.Min(low, expected)), slowed > horizon ? null : Date(line, Math.Min(Math.Max(high, slowed), today + 200_000)), line.SlopePerDay.Count);
    }

    private static DateTimeOffset Date(Trend.Fitted line, double days) => line.Origin.AddDays(days);
}
