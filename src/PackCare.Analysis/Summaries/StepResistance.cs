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
    private const double DriftBeforeSeconds = 60;
    private const double SettledSeconds = 45;
    private const double SmallestNoise = 1e-6;

    // By how much earlier currents may bias a step that had no long steady stretch before it (ours, no source).
    private const double StrayPerSecond = 0.01;
    private const double LongestStray = 15;

    // Noise evens out over the sessions of a record, such a bias does not: it is weighed as if for so many.
    private const int LikelySessions = 6;

    /// <summary>One reading a cell; null where the session holds no usable step.</summary>
    public static IReadOnlyList<ResistanceReading?> Of(SessionSamples session, ChargeCount? charge, RestVoltageCurve curve)
    {
        double interval = session.IntervalSeconds ?? 0;
        List<CurrentStep> steps = charge is null ? [] : Choose(CurrentSteps.Find(session).Where(step => !NearEmpty(session, step, curve)), interval);
        if (steps.Count == 0)
        {
            return [.. session.Cells.Select(_ => (ResistanceReading?)null)];
        }

        double lag = CurrentSteps.NominalLag(steps.Select(step => step.Seconds).Median(), interval);
        double active = Math.Max(3 * session.CurrentResolution, 0.03 * session.PeakAmperes);
        double[] noises = Noise.Of(session.Cells, i => Math.Abs(session.Current![i + 1] - session.Current[i - 1]) <= active);
        // All cells step by step, so that a long session is walked through only once.
        double?[][] drifts = [.. steps.Select(step => session.Cells.Select(volts => Drift(session, charge!, step, volts)).ToArray())];
        double?[] usual = [.. session.Cells.Select((_, cell) => Usual([.. drifts.Select(step => step[cell])]))];
        StepVoltage?[][] read =
        [
            .. steps.Select((step, i) => session.Cells.Select((volts, cell) =>
                StepVoltage.Read(session, charge!, step, volts, lag, drifts[i][cell] ?? usual[cell], noises[cell], volts.Figures.Step)).ToArray()),
        ];
        double[] celsius = session.Temperature is { } temperature ? [.. steps.Select(step => temperature[step.After]).Where(double.IsFinite)] : [];
        return [.. session.Cells.Select((_, cell) => OfCell(session, steps, lag, usual[cell], [.. read.Select(step => step[cell])], celsius))];
    }

    // Where a step has no long stretch of its own, the others' in the session tell how voltage moves with charge.
    private static double? Usual(double?[] drifts) => drifts.OfType<double>().ToList() is { Count: > 0 } known ? known.Median() : null;

    // Of the lags at hand the shortest that carries a good part of the weight: it is the least mixed with polarisation.
    private static List<CurrentStep> Choose(IEnumerable<CurrentStep> steps, double interval)
    {
        var groups = steps
            .GroupBy(step => CurrentSteps.NominalLag(step.Seconds, interval))
            .Select(group => (Lag: group.Key, Steps: group.ToList(), Weight: group.Sum(Weight)))
            .OrderBy(group => group.Lag)
            .ToList();
        double most = groups.Count == 0 ? 0 : groups.Max(group => group.Weight);
        List<CurrentStep> chosen = groups.FirstOrDefault(group => group.Weight >= 0.25 * most).Steps ?? [];
        // Steps whose new current lasted are alike in lag; those that did not serve only where there is nothing better.
        return chosen.Exists(step => step.Held) ? [.. chosen.Where(step => step.Held)] : chosen;
    }

    private static double Weight(CurrentStep step) => step.DeltaAmperes * step.DeltaAmperes;

    // Judged on the side with less current, where the voltage is nearer to rest.
    private static bool NearEmpty(SessionSamples session, CurrentStep step, RestVoltageCurve curve)
    {
        int calm = Math.Abs(session.Current![step.Before]) <= Math.Abs(session.Current[step.After]) ? step.Before : step.After;
        double[] volts = [.. session.Cells.Select(cell => cell[calm]).Where(double.IsFinite)];
        return volts.Length == 0 || curve.SocAt(volts.Median()) < LeastSoc;
    }

    private static ResistanceReading? OfCell(SessionSamples session, List<CurrentStep> steps, double lag, double? usual, StepVoltage?[] read, double[] celsius)
    {
        if (Reading([.. read.OfType<StepVoltage>()]) is not { } all)
        {
            return null;
        }

        // What earlier currents left behind still moves the voltage, the more so the longer the lag; after a long steady stretch it
        // does not. Which steps to go by is a matter of which error is the smaller, that bias or the noise of fewer steps.
        double stray = all.Ohms * StrayPerSecond * Math.Min(lag, LongestStray);
        bool strays = usual is null || steps.Any(step => !step.Settled);
        var reading = all with { Error = strays ? Math.Sqrt((all.Error * all.Error) + (stray * stray)) : all.Error };
        if (usual is not null && Reading([.. read.Where((_, i) => steps[i].Settled).OfType<StepVoltage>()]) is { } settled && settled.Error * settled.Error < (all.Error * all.Error) + (strays ? LikelySessions * stray * stray : 0))
        {
            reading = settled;
        }

        // Noise may take a reading below none; kept as it is, since dropping such readings would leave the high ones.
        return new ResistanceReading(reading.Ohms, reading.Error, reading.Count, lag, celsius.Length == 0 ? null : celsius.Average());

        (double Ohms, double Error, int Count)? Reading(StepVoltage[] pairs)
        {
            if (pairs.Length == 0)
            {
                return null;
            }

            (double ohms, _) = RobustSlope(pairs);
            // Currents are rounded as well; it matters where the step is small.
            double rounding = ohms * session.CurrentResolution / Math.Sqrt(6);
            (ohms, double error) = RobustSlope([.. pairs.Select(pair => pair with { DeltaNoise = Math.Sqrt((pair.DeltaNoise * pair.DeltaNoise) + (rounding * rounding)) })]);
            return (ohms, error, pairs.Length);
        }
    }

    /// <summary>
    /// The slope of voltage against charge on the steady side with current, in volts per ampere hour; times the charge between
    /// two samples it is how far the voltage moved because charge flowed, not because current changed. Null where too little is seen.
    /// </summary>
    private static double? Drift(SessionSamples session, ChargeCount charge, CurrentStep step, SampleColumn volts)
    {
        bool after = Math.Abs(session.Current![step.After]) >= Math.Abs(session.Current[step.Before]);
        return Drift(session, charge, step, volts, after) ?? Drift(session, charge, step, volts, !after);
    }

    private static double? Drift(SessionSamples session, ChargeCount charge, CurrentStep step, SampleColumn volts, bool after)
    {
        SampleColumn current = session.Current!;
        var q = new List<double>();
        var v = new List<double>();
        int i = after ? step.After : step.Before;
        double origin = session.Time[i];
        double level = current[i];
        if (session.IsRest(i))
        {
            return null;
        }

        // Before the step the latest minute serves, if polarisation had time to build up ahead of it.
        double from = after ? DriftFromSeconds : 0;
        double to = after ? DriftToSeconds : DriftBeforeSeconds;
        bool longEnough = after;
        while (i >= 0 && i < session.Count && Math.Abs(current[i] - level) <= 0.05 * Math.Abs(level))
        {
            double apart = Math.Abs(session.Time[i] - origin);
            if (apart > to)
            {
                longEnough |= apart >= DriftBeforeSeconds + SettledSeconds;
                if (after || longEnough)
                {
                    break;
                }
            }
            else if (apart >= from && double.IsFinite(volts[i]))
            {
                q.Add(charge.RunningAh[i]);
                v.Add(volts[i]);
            }

            i += after ? 1 : -1;
        }

        if (!longEnough || q.Count < 5 || q.Max() - q.Min() <= 0)
        {
            return null;
        }

        (_, double slope) = MathNet.Numerics.LinearRegression.SimpleRegression.Fit([.. q], [.. v]);
        return slope;
    }

    /// <summary>Slope through the origin, weighted by the steps' own errors and by Huber's weights; error from the former or from the scatter of the steps, whichever is larger.</summary>
    internal static (double Ohms, double StandardError) RobustSlope(IReadOnlyList<StepVoltage> pairs)
    {
        double[] precision = [.. pairs.Select(pair => 1 / Square(Math.Max(pair.DeltaNoise, SmallestNoise)))];
        double[] shares = [.. pairs.Select(_ => 1.0)];
        double ohms = Slope(pairs, precision, shares);
        for (int round = 0; round < 5 && pairs.Count >= 4; round++)
        {
            double[] residuals = [.. pairs.Select((pair, i) => Math.Abs(pair.DeltaVolts - (ohms * pair.DeltaAmperes)) * Math.Sqrt(precision[i]))];
            double scale = Math.Max(1, residuals.Median() / 0.6745);
            shares = [.. residuals.Select(residual => residual <= 1.5 * scale ? 1 : 1.5 * scale / residual)];
            ohms = Slope(pairs, precision, shares);
        }

        double information = pairs.Select((pair, i) => shares[i] * precision[i] * Square(pair.DeltaAmperes)).Sum();
        double chiSquare = pairs.Select((pair, i) => shares[i] * precision[i] * Square(pair.DeltaVolts - (ohms * pair.DeltaAmperes))).Sum();
        double scatter = pairs.Count < 2 ? 0 : chiSquare / (pairs.Count - 1);
        return (ohms, Math.Sqrt(Math.Max(1, scatter) / information));
    }

    private static double Slope(IReadOnlyList<StepVoltage> pairs, double[] precision, double[] shares) =>
        pairs.Select((pair, i) => shares[i] * precision[i] * pair.DeltaVolts * pair.DeltaAmperes).Sum()
        / pairs.Select((pair, i) => shares[i] * precision[i] * Square(pair.DeltaAmperes)).Sum();

    private static double Square(double value) => value * value;
}
