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

        double[] median = MedianOf(curves);
        double[] slope = Slopes(curves.Charge, median);
        return [.. curves.Volts.Select((volts, cell) => Fit(curves, median, slope, volts, known ? resistances[cell]!.StandardErrorOhms : null))];
    }

    private static ChargeAlignment? Fit(BinnedCurves curves, double[] median, double[] slope, double[] volts, double? ohmsError)
    {
        double[] q = curves.Charge;
        double stretch = 1;
        double shift = 0;
        double constant = 0;
        var slopes = new double[q.Length];
        var residuals = new double[q.Length];
        ShiftAndStretch? fit = null;
        for (int round = 0; round < Rounds; round++)
        {
            Compare(q, median, slope, volts, (shift, stretch, constant), slopes, residuals);
            fit = ShiftAndStretch.Solve(q, slopes, residuals, withConstant: ohmsError is null);
            if (fit is null)
            {
                return null;
            }

            shift += fit.Shift;
            stretch += fit.Stretch;
            constant += fit.Constant;
            // Once nothing moves any more, further rounds find the same.
            if (Math.Abs(fit.Stretch) < 1e-13 && Math.Abs(fit.Shift) < 1e-13 * (q[^1] - q[0]) && Math.Abs(fit.Constant) < 1e-13)
            {
                break;
            }
        }

        if (!(stretch is > 0.3 and < 3))
        {
            return null;
        }

        fit!.TakeOff(q, slopes, residuals);
        double inflation = Inflation(residuals);
        // Bins average readings that were rounded alike; below a tenth of a millivolt their agreement proves nothing.
        double sigma = Math.Max(fit.ResidualDeviation(residuals), 1e-4) * inflation;
        double shiftError = sigma * Math.Sqrt(fit.ShiftVariance);
        double stretchError = sigma * Math.Sqrt(fit.StretchVariance);
        if (ohmsError is { } ohms)
        {
            // What an error of one ohm in the resistance does to shift and stretch: the fit of the current's own trace.
            ShiftAndStretch? byOhms = ShiftAndStretch.Solve(q, slope, curves.Current, withConstant: false);
            shiftError = Math.Sqrt((shiftError * shiftError) + Square((byOhms?.Shift ?? 0) * ohms));
            stretchError = Math.Sqrt((stretchError * stretchError) + Square((byOhms?.Stretch ?? 0) * ohms));
        }

        return new ChargeAlignment(shift, shiftError, stretch, stretchError);
    }

    // The median curve's slope where each bin of the cell's falls on it, and how far the cell is off there. Bins rise, so both are walked through once.
    private static void Compare(double[] q, double[] median, double[] slope, double[] volts, (double Shift, double Stretch, double Constant) laid, double[] slopes, double[] residuals)
    {
        int above = 0;
        for (int i = 0; i < q.Length; i++)
        {
            double at = (laid.Stretch * q[i]) + laid.Shift;
            while (above > 0 && q[above - 1] >= at)
            {
                above--;
            }

            while (above < q.Length && q[above] < at)
            {
                above++;
            }

            double there;
            if (above == 0 || above == q.Length)
            {
                int end = above == 0 ? 0 : q.Length - 1;
                slopes[i] = slope[end];
                there = median[end] + (slope[end] * (at - q[end]));
            }
            else
            {
                double part = (at - q[above - 1]) / (q[above] - q[above - 1]);
                slopes[i] = slope[above - 1] + (part * (slope[above] - slope[above - 1]));
                there = median[above - 1] + (part * (median[above] - median[above - 1]));
            }

            residuals[i] = volts[i] - laid.Constant - there;
        }
    }

    // Neighbouring residuals that go together (the curves are not exact copies) are worth fewer observations: first-order autocorrelation.
    private static double Inflation(double[] residuals)
    {
        double all = 0;
        double neighbours = 0;
        for (int i = 0; i < residuals.Length; i++)
        {
            all += residuals[i] * residuals[i];
            neighbours += i == 0 ? 0 : residuals[i] * residuals[i - 1];
        }

        double rho = all > 0 ? Math.Clamp(neighbours / all, 0, 0.96) : 0;
        return Math.Sqrt((1 + rho) / (1 - rho));
    }

    private static double[] MedianOf(BinnedCurves curves)
    {
        var medians = new double[curves.Charge.Length];
        var cells = new double[curves.Volts.Count];
        for (int bin = 0; bin < medians.Length; bin++)
        {
            for (int cell = 0; cell < cells.Length; cell++)
            {
                cells[cell] = curves.Volts[cell][bin];
            }

            medians[bin] = Medians.Of(cells);
        }

        return medians;
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

    private static double Square(double value) => value * value;
}
