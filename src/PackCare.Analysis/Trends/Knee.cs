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

        if (WeightedLine.Fit(x, y, weights) is not { } straight)
        {
            return null;
        }

        double line = Bic(x.Length, straight.WeightedSquares, 2);
        (int Index, double Bic) best = (-1, double.PositiveInfinity);
        // Along a long record a bend need not be placed to the session.
        int stride = Math.Max(1, x.Length / MostPlaces);
        for (int i = EachSide; i <= x.Length - EachSide; i += stride)
        {
            if (x[i] > x[i - 1] && Bent(x, y, weights, straight, x[i - 1]) is var squares && Bic(x.Length, squares, 4) is var bic && bic < best.Bic)
            {
                best = (i, bic);
            }
        }

        return best.Bic < line - Strong ? best.Index : null;
    }

    // The third column, how far x is past the knot, is freed of the line; what it takes off the squares is its own share alone.
    private static double Bent(double[] x, double[] y, double[] weights, WeightedLine straight, double knot)
    {
        double[] past = [.. x.Select(at => Math.Max(0, at - knot))];
        if (WeightedLine.Fit(x, past, weights) is not { } shape)
        {
            return double.PositiveInfinity;
        }

        double square = 0;
        double along = 0;
        for (int i = 0; i < x.Length; i++)
        {
            double off = shape.Residual(x[i], past[i]);
            square += weights[i] * off * off;
            along += weights[i] * off * straight.Residual(x[i], y[i]);
        }

        return square > 0 ? straight.WeightedSquares - (along * along / square) : double.PositiveInfinity;
    }

    private static double Bic(int count, double squares, int parameters) =>
        (count * Math.Log(Math.Max(squares, 1e-12) / count)) + (parameters * Math.Log(count));
}
