using PackCare.Analysis.Statistics;

namespace PackCare.Analysis.Capacity;

/// <summary>
/// Readings over different parts of the charge err differently, because the published curve is not this cell's. Sessions that
/// run between like levels share one error b; it is estimated along with a line through all readings,
/// C = a + s t + b_group, each b held near 0 by a pseudo-observation with the curve's own standard error.
/// A complete session has almost none, so the pack's own complete sessions teach what its partial ones are worth.
/// </summary>
internal static class CurveBias
{
    private const int Rounds = 3;

    /// <summary>The readings with their group's error taken off, and what is left of it as a standard error; the same readings where they are too few to tell.</summary>
    public static IReadOnlyList<CapacityReading> Remove(IReadOnlyList<CapacityReading> readings)
    {
        if (readings.Count < 3)
        {
            return readings;
        }

        string[] groups = [.. readings.Select(reading => reading.Group).Distinct()];
        double days = Math.Max(1, (readings[^1].At - readings[0].At).TotalDays);
        int rows = readings.Count + groups.Length + 1;
        double own = 1;
        LinearFit? fit = null;
        for (int round = 0; round < Rounds; round++)
        {
            var design = new double[rows, 2 + groups.Length];
            var response = new double[rows];
            var weights = new double[rows];
            for (int i = 0; i < readings.Count; i++)
            {
                design[i, 0] = 1;
                design[i, 1] = (readings[i].At - readings[0].At).TotalDays / days;
                design[i, 2 + Array.IndexOf(groups, readings[i].Group)] = 1;
                response[i] = readings[i].AmpereHours;
                weights[i] = Math.Pow(Math.Max(own * readings[i].OwnError, 0.002 * readings[i].AmpereHours), -2);
            }

            for (int g = 0; g < groups.Length; g++)
            {
                CapacityReading[] members = [.. readings.Where(reading => reading.Group == groups[g])];
                design[readings.Count + g, 2 + g] = 1;
                weights[readings.Count + g] = Math.Pow(Math.Max(members.Average(reading => reading.CurveError), 0.002 * members[0].AmpereHours), -2);
            }

            // A pack does not change by half over its record; this only keeps the slope determined where all readings fall on a day.
            design[rows - 1, 1] = 1;
            weights[rows - 1] = Math.Pow(0.5 * readings[0].AmpereHours, -2);
            fit = LinearModel.Fit(design, response, weights);
            if (fit is null)
            {
                return readings;
            }

            double chiSquare = Enumerable.Range(0, readings.Count).Sum(i => fit.Residuals[i] * fit.Residuals[i] * weights[i]);
            double freedom = Math.Max(1, readings.Count - groups.Length - 1);
            own *= Math.Clamp(Math.Sqrt(chiSquare / freedom), 0.3, 3);
        }

        return [.. readings.Select(reading =>
        {
            int g = 2 + Array.IndexOf(groups, reading.Group);
            double left = Math.Sqrt(fit!.UnscaledCovariance[g, g]);
            return reading with { AmpereHours = reading.AmpereHours - fit.Parameters[g], CurveError = Math.Min(left, reading.CurveError) };
        })];
    }
}
