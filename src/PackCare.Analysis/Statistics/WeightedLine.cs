namespace PackCare.Analysis.Statistics;

/// <summary>
/// The straight line y = a + b x by weighted least squares in closed form, about the weighted means, which is the QR of two columns written out:
/// as exact as <see cref="LinearModel"/> to the last few bits and without a matrix.
/// </summary>
/// <param name="Intercept">a.</param>
/// <param name="Slope">b.</param>
/// <param name="InterceptUnscaled">Variance of a for unit weight.</param>
/// <param name="SlopeUnscaled">Variance of b for unit weight.</param>
/// <param name="CrossUnscaled">Covariance of both for unit weight.</param>
/// <param name="WeightedSquares">Weighted sum of squared residuals.</param>
internal readonly record struct WeightedLine(double Intercept, double Slope, double InterceptUnscaled, double SlopeUnscaled, double CrossUnscaled, double WeightedSquares)
{
    private const double Rank = 1e-28;

    /// <summary>Fits it; null where the x do not differ.</summary>
    /// <param name="x">The abscissa.</param>
    /// <param name="y">As many observations.</param>
    /// <param name="weights">As many positive weights.</param>
    public static WeightedLine? Fit(ReadOnlySpan<double> x, ReadOnlySpan<double> y, ReadOnlySpan<double> weights)
    {
        double all = 0;
        double sumX = 0;
        double sumY = 0;
        double square = 0;
        for (int i = 0; i < x.Length; i++)
        {
            all += weights[i];
            sumX += weights[i] * x[i];
            sumY += weights[i] * y[i];
            square += weights[i] * x[i] * x[i];
        }

        double middleX = sumX / all;
        double middleY = sumY / all;
        double across = 0;
        double along = 0;
        for (int i = 0; i < x.Length; i++)
        {
            double from = x[i] - middleX;
            across += weights[i] * from * from;
            along += weights[i] * from * (y[i] - middleY);
        }

        if (x.Length < 2 || !(across > square * Rank))
        {
            return null;
        }

        double slope = along / across;
        double squares = 0;
        for (int i = 0; i < x.Length; i++)
        {
            double off = y[i] - middleY - (slope * (x[i] - middleX));
            squares += weights[i] * off * off;
        }

        return new WeightedLine(middleY - (slope * middleX), slope, (1 / all) + (middleX * middleX / across), 1 / across, -middleX / across, squares);
    }

    /// <summary>Observed less fitted.</summary>
    public double Residual(double x, double y) => y - Intercept - (Slope * x);
}
