using PackCare.Analysis.Statistics;

namespace PackCare.Analysis.Trends;

/// <summary>
/// Looks for a bend: two lines that meet, against one line, by the Bayesian information criterion (Schwarz 1978, Ann. Stat. 6,
/// 461-464), BIC = n ln(RSS/n) + k ln n, with k = 2 for the line and 4 for the bent one (its place counts).
/// </summary>
internal static class Knee
{
    private const int Fewest = 12;
    private const int EachSide = 5;
    private const int MostPlaces = 12;

    // "Strong" evidence by Kass and Raftery (1995, J. Am. Stat. Assoc. 90, 773-795) begins at 6.
    private const double Strong = 6;

    /// <summary>Index of the first observation after the bend; null where one line does as well.</summary>
    /// <param name="x">In rising order.</param>
    /// <param name="y">The observations.</param>
    /// <param name="weights">Their weights.</param>
    public static int? Find(double[] x, double[] y, double[] weights)
    {
        if (x.Length < Fewest)
        {
            return null;
        }

        double line = Bic(x, y, weights, null);
        (int Index, double Bic) best = (-1, double.PositiveInfinity);
        // Along a long record a bend need not be placed to the session.
        int stride = Math.Max(1, x.Length / MostPlaces);
        for (int i = EachSide; i <= x.Length - EachSide; i += stride)
        {
            if (x[i] > x[i - 1] && Bic(x, y, weights, x[i - 1]) is var bic && bic < best.Bic)
            {
                best = (i, bic);
            }
        }

        return best.Bic < line - Strong ? best.Index : null;
    }

    private static double Bic(double[] x, double[] y, double[] weights, double? knot)
    {
        var design = new double[x.Length, knot is null ? 2 : 3];
        for (int i = 0; i < x.Length; i++)
        {
            design[i, 0] = 1;
            design[i, 1] = x[i];
            if (knot is { } at)
            {
                design[i, 2] = Math.Max(0, x[i] - at);
            }
        }

        if (LinearModel.Fit(design, y, weights) is not { } fit)
        {
            return double.PositiveInfinity;
        }

        int parameters = knot is null ? 2 : 4;
        return (x.Length * Math.Log(Math.Max(fit.WeightedSquares, 1e-12) / x.Length)) + (parameters * Math.Log(x.Length));
    }
}
