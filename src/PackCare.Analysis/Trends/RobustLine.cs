using MathNet.Numerics.Statistics;
using PackCare.Analysis.Statistics;

namespace PackCare.Analysis.Trends;

/// <summary>A line by weighted least squares with Huber's weights on top.</summary>
internal sealed record RobustLine(
    double Intercept,
    double Slope,
    double InterceptVariance,
    double SlopeVariance,
    double Covariance,
    int DegreesOfFreedom,
    double WeightedSquares,
    IReadOnlyList<double> Shares)
{
    private const int Rounds = 12;

    /// <summary>Fits y = a + b x; null where it cannot be fitted.</summary>
    /// <param name="x">The abscissa.</param>
    /// <param name="y">The observations.</param>
    /// <param name="errors">Their standard errors, whose ratios set the weights.</param>
    /// <param name="huber">From how many standard deviations on a residual is weighted down.</param>
    public static RobustLine? Fit(double[] x, double[] y, double[] errors, double huber)
    {
        double floor = Math.Max(errors.Max() * 1e-6, 1e-12);
        double[] precision = [.. errors.Select(error => 1 / Math.Pow(Math.Max(error, floor), 2))];
        double[] shares = new double[x.Length];
        double[] weights = new double[x.Length];
        double[] standardized = new double[x.Length];
        Array.Fill(shares, 1);
        WeightedLine? first = WeightedLine.Fit(x, y, precision);
        for (int round = 0; round < Rounds && first is { } line && x.Length >= 5; round++)
        {
            for (int i = 0; i < x.Length; i++)
            {
                weights[i] = standardized[i] = Math.Abs(line.Residual(x[i], y[i])) * Math.Sqrt(precision[i]);
            }

            double bound = huber * Math.Max(ArrayStatistics.MedianInplace(weights) / 0.6745, 1e-9);
            double moved = 0;
            for (int i = 0; i < x.Length; i++)
            {
                double next = standardized[i] <= bound ? 1 : bound / standardized[i];
                moved = Math.Max(moved, Math.Abs(next - shares[i]));
                shares[i] = next;
                weights[i] = precision[i] * next;
            }

            first = WeightedLine.Fit(x, y, weights);
            if (moved < 1e-3)
            {
                break;
            }
        }

        if (first is not { } fit)
        {
            return null;
        }

        int freedom = Math.Max(1, x.Length - 2);
        double variance = Variance(fit, x, y, precision, shares, freedom);
        return new RobustLine(
            fit.Intercept,
            fit.Slope,
            variance * fit.InterceptUnscaled,
            variance * fit.SlopeUnscaled,
            variance * fit.CrossUnscaled,
            freedom,
            fit.WeightedSquares,
            shares);
    }

    /// <summary>
    /// Residual variance for unit weight. With every share 1 it is the plain one of least squares; with outliers it is
    /// Huber's, the mean square of the clipped residuals over the square of the share left alone
    /// (Huber, Robust Statistics, 1981, section 7.6, with its correction for few observations), brought to the form that multiplies (X'WX)^-1.
    /// </summary>
    private static double Variance(WeightedLine fit, double[] x, double[] y, double[] precision, double[] shares, int freedom)
    {
        double clipped = 0;
        for (int i = 0; i < x.Length; i++)
        {
            double residual = fit.Residual(x[i], y[i]) * shares[i];
            clipped += residual * residual * precision[i];
        }

        clipped /= freedom;
        double untouched = shares.Count(share => share >= 1) / (double)shares.Length;
        double mean = shares.Average();
        // Huber's correction for few observations, K = 1 + (p/n) (1 - m)/m.
        double few = 1 + (2.0 / shares.Length * (1 - untouched) / untouched);
        return few * few * clipped * mean / (untouched * untouched);
    }
}
