using PackCare.Analysis.Assessments;

namespace PackCare.Analysis.Trends;

/// <summary>
/// When a limit is met if ageing slows down as published calendar ageing does, with t^0.75 (Schmalstieg et al. 2014, J. Power
/// Sources 257, 325-334). A line takes the pace so far to go on; the truth mostly lies between the two.
/// </summary>
internal static class Slowing
{
    private const double Exponent = 0.75;

    /// <summary>Days from the trend's origin to the limit; infinite where it is never met; null where wear speeds up, or nothing can be fitted.</summary>
    /// <param name="trend">The trend of the observations.</param>
    /// <param name="points">The observations, in order of time.</param>
    /// <param name="limit">The limit, in their unit.</param>
    public static double? DaysTo(Trend trend, IReadOnlyList<WeightedPoint> points, double limit)
    {
        if (trend is not Trend.Fitted line)
        {
            return null;
        }

        double[] days = [.. points.Select(point => (point.At - points[0].At).TotalDays)];
        double[] values = [.. points.Select(point => point.Value)];
        double[] errors = [.. points.Select(point => point.StandardError)];
        if (line.Knee is not null && !(RobustLine.Fit(days, values, errors, TrendLine.Huber) is { } all && Math.Abs(line.SlopePerDay.Value) < Math.Abs(all.Slope)))
        {
            return null;
        }

        if (RobustLine.Fit([.. days.Select(day => Math.Pow(day, Exponent))], values, errors, TrendLine.Huber) is not { } fit)
        {
            return null;
        }

        double reached = (limit - fit.Intercept) / fit.Slope;
        return reached > 0 ? Math.Pow(reached, 1 / Exponent) - (line.Origin - points[0].At).TotalDays : double.PositiveInfinity;
    }
}
