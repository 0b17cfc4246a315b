using MathNet.Numerics.LinearAlgebra;

namespace PackCare.Analysis.Statistics;

/// <summary>Weighted linear least squares, y = X b + e with Var(e_i) = s^2 / w_i, solved by QR of the weighted design (never by normal equations, which lose half the digits on ill-conditioned data).</summary>
internal static class LinearModel
{
    // A hundred rows and three columns are solved long before a second thread has woken up.
    static LinearModel() => MathNet.Numerics.Control.UseSingleThread();

    /// <summary>Fits the model.</summary>
    /// <param name="design">One row an observation, one column a parameter.</param>
    /// <param name="response">One value an observation.</param>
    /// <param name="weights">One positive weight an observation, or null for equal ones.</param>
    /// <returns>The fit; null with fewer observations than parameters or columns that do not differ.</returns>
    public static LinearFit? Fit(double[,] design, IReadOnlyList<double> response, IReadOnlyList<double>? weights = null)
    {
        int rows = design.GetLength(0);
        int columns = design.GetLength(1);
        if (rows < columns)
        {
            return null;
        }

        double[] scale = ColumnScales(design, weights);
        if (scale.Any(factor => factor == 0))
        {
            return null;
        }

        Matrix<double> x = Matrix<double>.Build.Dense(rows, columns, (i, j) => design[i, j] / scale[j] * Root(weights, i));
        Vector<double> y = Vector<double>.Build.Dense(rows, i => response[i] * Root(weights, i));
        var qr = x.QR(MathNet.Numerics.LinearAlgebra.Factorization.QRMethod.Thin);
        Vector<double> diagonal = qr.R.Diagonal().PointwiseAbs();
        if (diagonal.Minimum() < diagonal.Maximum() * 1e-14)
        {
            return null;
        }

        Vector<double> solution = qr.R.UpperTriangle().Solve(qr.Q.TransposeThisAndMultiply(y));
        Vector<double> residuals = y - (x * solution);
        Matrix<double> inverse = qr.R.UpperTriangle().Inverse();
        Matrix<double> unscaled = inverse * inverse.Transpose();
        int freedom = rows - columns;
        double squares = residuals.DotProduct(residuals);
        return new LinearFit(
            [.. solution.Select((value, j) => value / scale[j])],
            Matrix<double>.Build.Dense(columns, columns, (i, j) => unscaled[i, j] / (scale[i] * scale[j])),
            squares,
            freedom,
            [.. Enumerable.Range(0, rows).Select(i => residuals[i] / Root(weights, i))]);
    }

    private static double Root(IReadOnlyList<double>? weights, int i) => weights is null ? 1 : Math.Sqrt(weights[i]);

    // Columns of a polynomial differ by many powers of ten; at a common length the test for rank means the same for each.
    private static double[] ColumnScales(double[,] design, IReadOnlyList<double>? weights)
    {
        var scales = new double[design.GetLength(1)];
        for (int j = 0; j < scales.Length; j++)
        {
            double sum = 0;
            for (int i = 0; i < design.GetLength(0); i++)
            {
                sum += design[i, j] * design[i, j] * (weights is null ? 1 : weights[i]);
            }

            scales[j] = Math.Sqrt(sum);
        }

        return scales;
    }
}
