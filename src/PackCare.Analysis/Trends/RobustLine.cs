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
        var design = new double[x.Length, 2];
        for (int i = 0; i < x.Length; i++)
        {
            design[i, 0] = 1;
            design[i, 1] = x[i];
        }

        double floor = errors.Max() * 1e-6;
        double[] precision = [.. errors.Select(error => 1 / Math.Pow(Math.Max(error, Math.Max(floor, 1e-12)), 2))];
        double[] shares = [.. x.Select(_ => 1.0)];
        LinearFit? fit = LinearModel.Fit(design, y, precision);
        for (int round = 0; round < Rounds && fit is not null && x.Length >= 5; round++)
        {
            double[] standardized = [.. fit.Residuals.Select((residual, i) => Math.Abs(residual) * Math.Sqrt(precision[i]))];
            double scale = Math.Max(standardized.Median() / 0.6745, 1e-9);
            double[] next = [.. standardized.Select(z => z <= huber * scale ? 1 : huber * scale / z)];
            bool settled = next.Zip(shares, (a, b) => Math.Abs(a - b)).Max() < 1e-3;
            shares = next;
            fit = LinearModel.Fit(design, y, [.. precision.Zip(shares, (a, b) => a * b)]);
            if (settled)
            {
                break;
            }
        }

        if (fit is null)
        {
            return null;
        }

        int freedom = Math.Max(1, x.Length - 2);
        double variance = Variance(fit, precision, shares, freedom);
        return new RobustLine(
            fit.Parameters[0],
            fit.Parameters[1],
            variance * fit.UnscaledCovariance[0, 0],
            variance * fit.UnscaledCovariance[1, 1],
            variance * fit.UnscaledCovariance[0, 1],
            freedom,
            fit.WeightedSquares,
            shares);
    }

    /// <summary>
    /// Residual variance for unit weight. With every share 1 it is the plain one of least squares; with outliers it is
    /// Huber's, the mean square of the clipped residuals over the square of the share left alone
    /// (Huber, Robust Statistics, 1981, section 7.6, with its correction for few observations), brought to the form that multiplies (X'WX)^-1.
    /// </summary>
    private static double Variance(LinearFit fit, double[] precision, double[] shares, int freedom)
    {
        double clipped = fit.Residuals.Select((residual, i) => residual * residual * precision[i] * shares[i] * shares[i]).Sum() / freedom;
        double untouched = shares.Count(share => share >= 1) / (double)shares.Length;
        double mean = shares.Average();
        // Huber's correction for few observations, K = 1 + (p/n) (1 - m)/m.
        double few = 1 + (2.0 / shares.Length * (1 - untouched) / untouched);
        return few * few * clipped * mean / (untouched * untouched);
    }
}
