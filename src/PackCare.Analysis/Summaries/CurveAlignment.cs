using MathNet.Numerics.Statistics;
using PackCare.Analysis.Statistics;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Summaries;

/// <summary>
/// Lays each cell's curve of voltage against charge onto the pack's median curve by a shift and a stretch of the charge
/// axis, V_cell(q) = V_median(s q + d), by Gauss-Newton. Voltages are first freed of I R with each cell's own resistance
/// from current steps; where that is not known a constant voltage difference is fitted as a third parameter, and the errors
/// grow accordingly.
/// </summary>
internal static class CurveAlignment
{
    private const int Bins = 100;
    private const int FewestBins = 25;
    private const int Rounds = 8;
    private const double SettleSeconds = 20;

    /// <summary>One alignment a cell; null where the session has no long enough stretch in one direction.</summary>
    public static IReadOnlyList<ChargeAlignment?> Of(SessionSamples session, ChargeCount? charge, IReadOnlyList<ResistanceReading?> resistances)
    {
        IReadOnlyList<ChargeAlignment?> none = [.. session.Cells.Select(_ => (ChargeAlignment?)null)];
        if (charge is null || session.Current is null || session.Cells.Count < 2)
        {
            return none;
        }

        bool known = resistances.All(reading => reading is not null);
        if (BinnedCurves.Of(session, charge, known ? [.. resistances.Select(reading => reading!.Ohms)] : null, Bins, SettleSeconds) is not { } curves || curves.Charge.Length < FewestBins)
        {
            return none;
        }

        double[] median = [.. Enumerable.Range(0, curves.Charge.Length).Select(bin => curves.Volts.Select(cell => cell[bin]).Median())];
        double[] slope = Slopes(curves.Charge, median);
        return [.. curves.Volts.Select((volts, cell) => Fit(curves, median, slope, volts, known ? resistances[cell]!.StandardErrorOhms : null))];
    }

    private static ChargeAlignment? Fit(BinnedCurves curves, double[] median, double[] slope, double[] volts, double? ohmsError)
    {
        double[] q = curves.Charge;
        double stretch = 1;
        double shift = 0;
        double constant = 0;
        LinearFit? fit = null;
        for (int round = 0; round < Rounds; round++)
        {
            int columns = ohmsError is null ? 3 : 2;
            var design = new double[q.Length, columns];
            var residual = new double[q.Length];
            for (int i = 0; i < q.Length; i++)
            {
                double at = (stretch * q[i]) + shift;
                double slopeThere = Interpolate(q, slope, at);
                design[i, 0] = slopeThere;
                design[i, 1] = slopeThere * q[i];
                if (columns == 3)
                {
                    design[i, 2] = 1;
                }

                residual[i] = volts[i] - constant - InterpolateBeyond(q, median, slope, at);
            }

            fit = LinearModel.Fit(design, residual);
            if (fit is null)
            {
                return null;
            }

            shift += fit.Parameters[0];
            stretch += fit.Parameters[1];
            constant += columns == 3 ? fit.Parameters[2] : 0;
        }

        if (!(stretch is > 0.3 and < 3))
        {
            return null;
        }

        double inflation = Inflation(fit!.Residuals);
        // Bins average readings that were rounded alike; below a tenth of a millivolt their agreement proves nothing.
        double sigma = Math.Max(fit.ResidualStandardDeviation, 1e-4) * inflation;
        double shiftError = sigma * Math.Sqrt(fit.UnscaledCovariance[0, 0]);
        double stretchError = sigma * Math.Sqrt(fit.UnscaledCovariance[1, 1]);
        if (ohmsError is { } ohms)
        {
            (double byOhmsShift, double byOhmsStretch) = Sensitivity(curves, slope);
            shiftError = Math.Sqrt((shiftError * shiftError) + Square(byOhmsShift * ohms));
            stretchError = Math.Sqrt((stretchError * stretchError) + Square(byOhmsStretch * ohms));
        }

        return new ChargeAlignment(shift, shiftError, stretch, stretchError);
    }

    // What an error of one ohm in the resistance does to shift and stretch: the fit of the current's own trace.
    private static (double Shift, double Stretch) Sensitivity(BinnedCurves curves, double[] slope)
    {
        var design = new double[slope.Length, 2];
        for (int i = 0; i < slope.Length; i++)
        {
            design[i, 0] = slope[i];
            design[i, 1] = slope[i] * curves.Charge[i];
        }

        LinearFit? fit = LinearModel.Fit(design, curves.Current);
        return fit is null ? (0, 0) : (fit.Parameters[0], fit.Parameters[1]);
    }

    // Neighbouring residuals that go together (the curves are not exact copies) are worth fewer observations: first-order autocorrelation.
    private static double Inflation(IReadOnlyList<double> residuals)
    {
        double all = residuals.Sum(residual => residual * residual);
        double neighbours = residuals.Zip(residuals.Skip(1), (a, b) => a * b).Sum();
        double rho = all > 0 ? Math.Clamp(neighbours / all, 0, 0.96) : 0;
        return Math.Sqrt((1 + rho) / (1 - rho));
    }

    private static double[] Slopes(double[] q, double[] volts)
    {
        const int Reach = 3;
        var slopes = new double[q.Length];
        for (int i = 0; i < q.Length; i++)
        {
            int a = Math.Max(0, i - Reach);
            int b = Math.Min(q.Length - 1, i + Reach);
            slopes[i] = (volts[b] - volts[a]) / (q[b] - q[a]);
        }

        return slopes;
    }

    private static double Interpolate(double[] x, double[] y, double at)
    {
        int found = Array.BinarySearch(x, at);
        int above = found >= 0 ? found : ~found;
        if (above == 0)
        {
            return y[0];
        }

        if (above >= x.Length)
        {
            return y[^1];
        }

        double part = (at - x[above - 1]) / (x[above] - x[above - 1]);
        return y[above - 1] + (part * (y[above] - y[above - 1]));
    }

    private static double InterpolateBeyond(double[] x, double[] y, double[] slope, double at) =>
        at < x[0] ? y[0] + (slope[0] * (at - x[0]))
        : at > x[^1] ? y[^1] + (slope[^1] * (at - x[^1]))
        : Interpolate(x, y, at);

    private static double Square(double value) => value * value;
}
