namespace PackCare.Analysis.Summaries;

/// <summary>
/// One step of laying a curve onto another: least squares of residual = slope (shift + stretch q) [+ constant] by normal
/// equations. Their two or three columns are of one size once q counts from its middle in units of its half range, which
/// leaves all but two or three digits; a general solver would take ten times as long for each of some ten thousand steps.
/// </summary>
/// <param name="Shift">Along the axis of charge, in ampere hours.</param>
/// <param name="Stretch">Of the axis of charge.</param>
/// <param name="Constant">Along the axis of voltage, in volts; 0 where none is fitted.</param>
/// <param name="ShiftVariance">Variance of the shift for residuals of variance 1.</param>
/// <param name="StretchVariance">Variance of the stretch for residuals of variance 1.</param>
/// <param name="Parameters">How many were fitted.</param>
internal sealed record ShiftAndStretch(double Shift, double Stretch, double Constant, double ShiftVariance, double StretchVariance, int Parameters)
{
    // Below this part of a pivot before elimination, a column is taken to be the others' sum.
    private const double Singular = 1e-11;

    /// <summary>Solves one step; null where the columns do not differ or there are no more points than parameters.</summary>
    /// <param name="q">Charge at each point, in ampere hours, rising.</param>
    /// <param name="slope">Slope of the curve there, in volts per ampere hour.</param>
    /// <param name="residual">How far the other curve is off there, in volts.</param>
    /// <param name="withConstant">Whether a constant voltage is fitted as well.</param>
    public static ShiftAndStretch? Solve(double[] q, double[] slope, double[] residual, bool withConstant)
    {
        int parameters = withConstant ? 3 : 2;
        double middle = (q[0] + q[^1]) / 2;
        double half = (q[^1] - q[0]) / 2;
        if (q.Length <= parameters || !(half > 0))
        {
            return null;
        }

        double aa = 0, ab = 0, bb = 0, ac = 0, bc = 0, ay = 0, by = 0, cy = 0;
        for (int i = 0; i < q.Length; i++)
        {
            double a = slope[i];
            double b = a * (q[i] - middle) / half;
            double y = residual[i];
            aa += a * a;
            ab += a * b;
            bb += b * b;
            ac += a;
            bc += b;
            ay += a * y;
            by += b * y;
            cy += y;
        }

        double scale = Math.Max(aa, bb);
        if (withConstant)
        {
            // The constant is eliminated first: what is left are the columns less their means.
            aa -= ac * ac / q.Length;
            ab -= ac * bc / q.Length;
            bb -= bc * bc / q.Length;
            ay -= ac * cy / q.Length;
            by -= bc * cy / q.Length;
        }

        double determinant = (aa * bb) - (ab * ab);
        if (!(aa > Singular * scale && bb > Singular * scale && determinant > Singular * aa * bb))
        {
            return null;
        }

        double atMiddle = ((bb * ay) - (ab * by)) / determinant;
        double perHalf = ((aa * by) - (ab * ay)) / determinant;
        double off = middle / half;
        return new ShiftAndStretch(
            atMiddle - (perHalf * off),
            perHalf / half,
            withConstant ? (cy - (atMiddle * ac) - (perHalf * bc)) / q.Length : 0,
            (bb + (2 * off * ab) + (off * off * aa)) / determinant,
            aa / determinant / (half * half),
            parameters);
    }

    /// <summary>Takes what was fitted off the residuals it was fitted to.</summary>
    public void TakeOff(double[] q, double[] slope, double[] residuals)
    {
        for (int i = 0; i < residuals.Length; i++)
        {
            residuals[i] -= (slope[i] * (Shift + (Stretch * q[i]))) + Constant;
        }
    }

    /// <summary>Standard deviation of residuals, for the degrees of freedom that the fit has left.</summary>
    public double ResidualDeviation(double[] residuals)
    {
        double squares = 0;
        foreach (double residual in residuals)
        {
            squares += residual * residual;
        }

        return Math.Sqrt(squares / (residuals.Length - Parameters));
    }
}
