using MathNet.Numerics.Statistics;
using PackCare.Analysis.Chemistries;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Summaries;

/// <summary>
/// Resistance of each cell from current steps: R = sum(w dV dI) / sum(w dI^2) over steps of like lag, the direct-current
/// method of IEC 61960-3 with as many pairs of levels as the session holds. Steps in the lowest part of the charge are left
/// out: there resistance rises steeply towards empty and would tell of the level, not of the cell.
/// </summary>
internal static class StepResistance
{
    /// <summary>Steps below this state of charge are left out.</summary>
    private const double LeastSoc = 0.28;

    // Right after a step the slow part of polarisation still builds up; the slope is taken where that is over.
    private const double DriftFromSeconds = 90;
    private const double DriftToSeconds = 300;

    /// <summary>One reading a cell; null where the session holds no usable step.</summary>
    public static IReadOnlyList<ResistanceReading?> Of(SessionArrays session, ChargeCount? charge, RestVoltageCurve curve)
    {
        double interval = session.IntervalSeconds ?? 0;
        List<CurrentStep> steps = charge is null ? [] : Choose(CurrentSteps.Find(session).Where(step => !NearEmpty(session, step, curve)), interval);
        if (steps.Count == 0)
        {
            return [.. session.Cells.Select(_ => (ResistanceReading?)null)];
        }

        double lag = CurrentSteps.NominalLag(steps.Select(step => step.Seconds).Median(), interval);
        return [.. session.Cells.Select(volts => OfCell(session, charge!, steps, lag, volts))];
    }

    // Of the lags at hand the shortest that carries a good part of the weight: it is the least mixed with polarisation.
    private static List<CurrentStep> Choose(IEnumerable<CurrentStep> steps, double interval)
    {
        var groups = steps
            .GroupBy(step => CurrentSteps.NominalLag(step.Seconds, interval))
            .Select(group => (Lag: group.Key, Steps: group.ToList(), Weight: group.Sum(step => step.DeltaAmperes * step.DeltaAmperes)))
            .OrderBy(group => group.Lag)
            .ToList();
        double most = groups.Count == 0 ? 0 : groups.Max(group => group.Weight);
        List<CurrentStep> chosen = groups.FirstOrDefault(group => group.Weight >= 0.25 * most).Steps ?? [];
        // Steps whose new current lasted are alike in lag; those that did not serve only where there is nothing better.
        return chosen.Exists(step => step.Held) ? [.. chosen.Where(step => step.Held)] : chosen;
    }

    // Judged on the side with less current, where the voltage is nearer to rest.
    private static bool NearEmpty(SessionArrays session, CurrentStep step, RestVoltageCurve curve)
    {
        int calm = Math.Abs(session.Current![step.Before]) <= Math.Abs(session.Current[step.After]) ? step.Before : step.After;
        double[] volts = [.. session.Cells.Select(cell => cell[calm]).Where(double.IsFinite)];
        return volts.Length == 0 || curve.SocAt(volts.Median()) < LeastSoc;
    }

    private static ResistanceReading? OfCell(SessionArrays session, ChargeCount charge, IReadOnlyList<CurrentStep> steps, double lag, double[] volts)
    {
        double active = Math.Max(3 * session.CurrentResolution, 0.03 * session.PeakAmperes);
        double noise = Noise.Of(volts, i => Math.Abs(session.Current![i + 1] - session.Current[i - 1]) <= active);
        var pairs = new List<(double DeltaVolts, double DeltaAmperes)>();
        var celsius = new List<double>();
        foreach (CurrentStep step in steps)
        {
            double drift = Drift(session, charge, step, volts);
            double delta = volts[step.After] - volts[step.Before] - (drift * (charge.RunningAh[step.After] - charge.RunningAh[step.Before]));
            double amperes = step.DeltaAmperes;
            if (step.Held)
            {
                // The step came at some moment of the interval before: the mean of this reading and the next lies one interval after it.
                int next = step.After + 1;
                delta = (delta + volts[next] - volts[step.Before] - (drift * (charge.RunningAh[next] - charge.RunningAh[step.Before]))) / 2;
                amperes = (amperes + session.Current![next] - session.Current[step.Before]) / 2;
            }

            if (double.IsFinite(delta))
            {
                pairs.Add((delta, amperes));
                if (session.Temperature is { } temperature && double.IsFinite(temperature[step.After]))
                {
                    celsius.Add(temperature[step.After]);
                }
            }
        }

        if (pairs.Count == 0)
        {
            return null;
        }

        (double ohms, double error) = RobustSlope(pairs, noise * Math.Sqrt(2));
        // Currents are rounded as well; it matters where the step is small.
        double rounding = ohms * session.CurrentResolution / Math.Sqrt(12);
        (ohms, error) = RobustSlope(pairs, Math.Sqrt(2 * ((noise * noise) + (rounding * rounding))));
        return ohms > 0 ? new ResistanceReading(ohms, error, pairs.Count, lag, celsius.Count == 0 ? null : celsius.Average()) : null;
    }

    /// <summary>
    /// The slope of voltage against charge on the steady side with current, in volts per ampere hour; times the charge between
    /// two samples it is how far the voltage moved because charge flowed, not because current changed.
    /// </summary>
    private static double Drift(SessionArrays session, ChargeCount charge, CurrentStep step, double[] volts)
    {
        double[] current = session.Current!;
        bool after = Math.Abs(current[step.After]) >= Math.Abs(current[step.Before]);
        var q = new List<double>();
        var v = new List<double>();
        int i = after ? step.After : step.Before;
        double origin = session.Time[i];
        double level = current[i];
        while (i >= 0 && i < session.Count && Math.Abs(session.Time[i] - origin) <= DriftToSeconds && Math.Abs(current[i] - level) <= 0.05 * Math.Abs(level))
        {
            if (Math.Abs(session.Time[i] - origin) >= (after ? DriftFromSeconds : 0) && double.IsFinite(volts[i]))
            {
                q.Add(charge.RunningAh[i]);
                v.Add(volts[i]);
            }

            i += after ? 1 : -1;
        }

        if (q.Count < 5 || q.Max() - q.Min() <= 0)
        {
            return 0;
        }

        (_, double slope) = MathNet.Numerics.LinearRegression.SimpleRegression.Fit([.. q], [.. v]);
        return slope;
    }

    /// <summary>Slope through the origin with Huber's weights; error from the known noise of dV or the scatter of the steps, whichever is larger.</summary>
    internal static (double Ohms, double StandardError) RobustSlope(IReadOnlyList<(double DeltaVolts, double DeltaAmperes)> pairs, double deltaNoise)
    {
        double[] weights = [.. pairs.Select(_ => 1.0)];
        double ohms = Slope(pairs, weights);
        if (pairs.Count >= 4)
        {
            for (int round = 0; round < 5; round++)
            {
                double[] residuals = [.. pairs.Select(pair => Math.Abs(pair.DeltaVolts - (ohms * pair.DeltaAmperes)))];
                double scale = Math.Max(deltaNoise, residuals.Median() / 0.6745);
                weights = [.. residuals.Select(residual => residual <= 1.5 * scale || residual == 0 ? 1 : 1.5 * scale / residual)];
                ohms = Slope(pairs, weights);
            }
        }

        double information = pairs.Zip(weights, (pair, weight) => weight * pair.DeltaAmperes * pair.DeltaAmperes).Sum();
        double formal = deltaNoise / Math.Sqrt(information);
        double scatter = pairs.Count < 2 ? 0 : Math.Sqrt(pairs.Zip(weights, (pair, weight) => weight * Square(pair.DeltaVolts - (ohms * pair.DeltaAmperes))).Sum() / (pairs.Count - 1) / information);
        return (ohms, Math.Max(formal, scatter));
    }

    private static double Slope(IReadOnlyList<(double DeltaVolts, double DeltaAmperes)> pairs, double[] weights) =>
        pairs.Zip(weights, (pair, weight) => weight * pair.DeltaVolts * pair.DeltaAmperes).Sum()
        / pairs.Zip(weights, (pair, weight) => weight * pair.DeltaAmperes * pair.DeltaAmperes).Sum();

    private static double Square(double value) => value * value;
}
