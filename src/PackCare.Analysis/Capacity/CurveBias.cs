using MathNet.Numerics.LinearAlgebra;
using PackCare.Analysis.Chemistries;
using PackCare.Analysis.Statistics;

namespace PackCare.Analysis.Capacity;

/// <summary>
/// The published curve is not this pack's own. What it is off by at a level s, g(s), is shared by all sessions that begin or
/// end there, so the sessions of a pack teach one another: C_read = a + b t + C (g(s2) - g(s1)) / (s2 - s1) is fitted by
/// weighted least squares, with g the sum of the parts by which a curve may stray and each coefficient held near 0 by a
/// pseudo-observation of its own standard error, 1.
/// </summary>
internal static class CurveBias
{
    private const int Parts = RestVoltageCurve.Parts;
    private const int Rounds = 3;

    // Readings may prove better than stated, but not by much: a curve's stray in seven parts is itself no better than this.
    private const double SmallestScale = 0.5;
    private const double LargestScale = 4;
    private const double LeastError = 0.005;

    /// <summary>The readings with the curve's error taken off, and what is left of it; the same readings where they are too few to tell.</summary>
    /// <param name="readings">In order of time.</param>
    /// <param name="curve">The curve that they were made with.</param>
    public static UnbiasedReadings Remove(IReadOnlyList<CapacityReading> readings, RestVoltageCurve curve)
    {
        if (readings.Count < 3)
        {
            return new UnbiasedReadings(readings, null, null);
        }

        double days = Math.Max(1, (readings[^1].At - readings[0].At).TotalDays);
        double typical = MathNet.Numerics.Statistics.ArrayStatistics.MedianInplace([.. readings.Select(reading => reading.AmpereHours)]);
        double[][] bends = [.. readings.Select(reading => Bend(reading, typical, curve))];
        double own = 1;
        LinearFit? fit = null;
        for (int round = 0; round < Rounds; round++)
        {
            (double[,] design, double[] response, double[] weights) = System(readings, bends, days, typical, own);
            fit = LinearModel.Fit(design, response, weights);
            if (fit is null)
            {
                return new UnbiasedReadings(readings, null, null);
            }

            // How much readings scatter that ought to agree, against what was stated for them.
            double chiSquare = Enumerable.Range(0, readings.Count).Sum(i => fit.Residuals[i] * fit.Residuals[i] * weights[i]);
            int levels = readings.Select(reading => reading.Group).Distinct().Count();
            own = Math.Clamp(own * Math.Sqrt(chiSquare / Math.Max(1, readings.Count - 1 - Math.Min(levels, Parts))), SmallestScale, LargestScale);
        }

        Matrix<double> covariance = fit!.UnscaledCovariance.SubMatrix(2, Parts, 2, Parts);
        Vector<double> bias = Vector<double>.Build.DenseOfEnumerable(fit.Parameters.Skip(2));
        CapacityReading[] unbiased = [.. readings.Select((reading, i) =>
        {
            Vector<double> bend = Vector<double>.Build.DenseOfArray(bends[i]);
            return reading with
            {
                AmpereHours = reading.AmpereHours - bend.DotProduct(bias),
                CurveError = Math.Sqrt(Math.Max(0, bend.DotProduct(covariance * bend))),
            };
        })];
        return new UnbiasedReadings(unbiased, bends, covariance);
    }

    private static (double[,] Design, double[] Response, double[] Weights) System(IReadOnlyList<CapacityReading> readings, double[][] bends, double days, double typical, double own)
    {
        int rows = readings.Count + Parts + 1;
        var design = new double[rows, 2 + Parts];
        var response = new double[rows];
        var weights = new double[rows];
        for (int i = 0; i < readings.Count; i++)
        {
            design[i, 0] = 1;
            design[i, 1] = (readings[i].At - readings[0].At).TotalDays / days;
            for (int part = 0; part < Parts; part++)
            {
                design[i, 2 + part] = bends[i][part];
            }

            response[i] = readings[i].AmpereHours;
            weights[i] = Math.Pow(Math.Max(own * readings[i].OwnError, LeastError * typical), -2);
        }

        for (int part = 0; part < Parts; part++)
        {
            design[readings.Count + part, 2 + part] = 1;
            weights[readings.Count + part] = 1;
        }

        // A pack does not change by half over its record; this only keeps the slope determined where all readings fall on a day.
        design[rows - 1, 1] = 1;
        weights[rows - 1] = Math.Pow(0.5 * typical, -2);
        return (design, response, weights);
    }

    // What each part of g does to the reading: C times its share in (g(s2) - g(s1)) / (s2 - s1).
    private static double[] Bend(CapacityReading reading, double typical, RestVoltageCurve curve) =>
        [.. curve.Deviations(reading.HighSoc).Zip(curve.Deviations(reading.LowSoc), (high, low) => (high - low) * typical / reading.Span)];
}
