namespace PackCare.Analysis.Trends;

/// <summary>
/// When a limit is met if ageing slows down as published calendar ageing does, with t^0.75 (Schmalstieg et al. 2014, J. Power
/// Sources 257, 325-334). A line takes the pace so far to go on; the truth mostly lies between the two.
/// </summary>
internal static class Slowing
{
    private const double Exponent = 0.75;

    /// <summary>Days from the first observation to the limit; infinite where it is never met, null where it cannot be fitted.</summary>
    /// <param name="points">The observations, in order of time.</param>
    /// <param name="limit">The limit, in their unit.</param>
    public static double? DaysTo(IReadOnlyList<WeightedPoint> points, double limit)
    {
        double[] x = [.. points.Select(point => Math.Pow((point.At - points[0].At).TotalDays, Exponent))];
        if (RobustLine.Fit(x, [.. points.Select(point => point.Value)], [.. points.Select(point => point.StandardError)], TrendLine.Huber) is not { } fit)
        {
            return null;
        }

        double reached = (limit - fit.Intercept) / fit.Slope;
        return reached > 0 ? Math.Pow(reached, 1 / Exponent) : double.PositiveInfinity;
    }
}
