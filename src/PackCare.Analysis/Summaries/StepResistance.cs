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
    private const int FewestForDrift = 5;
    private const double SmallestNoise = 1e-6;

    // By how much earlier currents may bias a step that had no long steady stretch before it (ours, no source).
    private const double StrayPerSecond = 0.01;
    private const double LongestStray = 15;

    // Noise evens out over the sessions of a record, such a bias does not: it is weighed as if for so many.
    private const int LikelySessions = 6;

    /// <summary>One reading a cell; null where the session holds no usable step.</summary>
    public static IReadOnlyList<ResistanceReading?> Of(SessionSamples session, ChargeCount? charge, RestVoltageCurve curve)
    {
        var readings = new ResistanceReading?[session.Cells.Count];
        double interval = session.IntervalSeconds ?? 0;
        CurrentStep[] steps = charge is null ? [] : Choose(CurrentSteps.Find(session), session, curve, interval);
        if (steps.Length == 0)
        {
            return readings;
        }

        double lag = CurrentSteps.NominalLag(ArrayStatistics.MedianInplace([.. steps.Select(step => step.Seconds)]), interval);
        double[] noises = Noise.Of(session.Cells, session.Current!, session.ChangeAmperes);
        double?[,] drifts = Drifts(session, charge!, steps);
        var usual = new double?[readings.Length];
        for (int cell = 0; cell < usual.Length; cell++)
        {
            usual[cell] = Usual(drifts, cell);
        }

        // All cells step by step, so that a long session is walked through only once.
        var read = new StepVoltage?[readings.Length, steps.Length];
        for (int i = 0; i < steps.Length; i++)
        {
            for (int cell = 0; cell < readings.Length; cell++)
            {
                SampleColumn volts = session.Cells[cell];
                read[cell, i] = StepVoltage.Read(session, charge!, steps[i], volts, lag, drifts[i, cell] ?? usual[cell], noises[cell], volts.Figures.Step);
            }
        }

        double[] celsius = session.Temperature is { } temperature ? [.. steps.Select(step => temperature[step.After]).Where(double.IsFinite)] : [];
        for (int cell = 0; cell < readings.Length; cell++)
        {
            readings[cell] = OfCell(session, steps, lag, usual[cell], read, cell, celsius.Length == 0 ? null : celsius.Average());
        }

        return readings;
    }

    // Where a step has no long stretch of its own, the others' in the session tell how voltage moves with charge.
    private static double? Usual(double?[,] drifts, int cell)
    {
        var known = new double[drifts.GetLength(0)];
        int count = 0;
        for (int step = 0; step < known.Length; step++)
        {
            if (drifts[step, cell] is { } drift)
            {
                known[count++] = drift;
            }
        }

        return count == 0 ? null : ArrayStatistics.MedianInplace(known[..count]);
    }

    // Of the lags at hand the shortest that carries a good part of the weight: it is the least mixed with polarisation.
    private static CurrentStep[] Choose(IReadOnlyList<CurrentStep> found, SessionSamples session, RestVoltageCurve curve, double interval)
    {
        var weights = new SortedList<double, double>();
        var lags = new double[found.Count];
        for (int i = 0; i < lags.Length; i++)
        {
            lags[i] = NearEmpty(session, found[i], curve) ? double.NaN : CurrentSteps.NominalLag(found[i].Seconds, interval);
            if (!double.IsNaN(lags[i]))
            {
                weights[lags[i]] = weights.GetValueOrDefault(lags[i]) + (found[i].DeltaAmperes * found[i].DeltaAmperes);
            }
        }

        double most = weights.Count == 0 ? 0 : weights.Values.Max();
        double lag = weights.FirstOrDefault(group => group.Value >= 0.25 * most).Key;
        CurrentStep[] chosen = [.. found.Where((_, i) => lags[i] == lag)];
        // Steps whose new current lasted are alike in lag; those that did not serve only where there is nothing better.
        return chosen.Any(step => step.Held) ? [.. chosen.Where(step => step.Held)] : chosen;
    }

    // Judged on the side with less current, where the voltage is nearer to rest.
    private static bool NearEmpty(SessionSamples session, CurrentStep step, RestVoltageCurve curve)
    {
        int calm = Math.Abs(session.Current![step.Before]) <= Math.Abs(session.Current[step.After]) ? step.Before : step.After;
        Span<double> volts = stackalloc double[session.Cells.Count];
        int count = 0;
        foreach (SampleColumn cell in session.Cells)
        {
            double there = cell[calm];
            if (double.IsFinite(there))
            {
                volts[count++] = there;
            }
        }

        return count == 0 || curve.SocAt(Medians.Of(volts[..count])) < LeastSoc;
    }

    private static ResistanceReading? OfCell(SessionSamples session, CurrentStep[] steps, double lag, double? usual, StepVoltage?[,] read, int cell, double? celsius)
    {
        if (Reading(settledOnly: false) is not { } all)
        {
            return null;
        }

        // What earlier currents left behind still moves the voltage, the more so the longer the lag; after a long steady stretch it
        // does not. Which steps to go by is a matter of which error is the smaller, that bias or the noise of fewer steps.
        double stray = all.Ohms * StrayPerSecond * Math.Min(lag, LongestStray);
        bool strays = usual is null || steps.Any(step => !step.Settled);
        var reading = all with { Error = strays ? Math.Sqrt((all.Error * all.Error) + (stray * stray)) : all.Error };
        if (usual is not null && Reading(settledOnly: true) is { } settled && settled.Error * settled.Error < (all.Error * all.Error) + (strays ? LikelySessions * stray * stray : 0))
        {
            reading = settled;
        }

        // Noise may take a reading below none; kept as it is, since dropping such readings would leave the high ones.
        return new ResistanceReading(reading.Ohms, reading.Error, reading.Count, lag, celsius);

        (double Ohms, double Error, int Count)? Reading(bool settledOnly)
        {
            var pairs = new StepVoltage[steps.Length];
            int count = 0;
            for (int i = 0; i < steps.Length; i++)
            {
                if (read[cell, i] is { } pair && (steps[i].Settled || !settledOnly))
                {
                    pairs[count++] = pair;
                }
            }

            if (count == 0)
            {
                return null;
            }

            Span<StepVoltage> used = pairs.AsSpan(0, count);
            (double ohms, _) = RobustSlope(used);
            // Currents are rounded as well; it matters where the step is small.
            double rounding = ohms * session.CurrentResolution / Math.Sqrt(6);
            foreach (ref StepVoltage pair in used)
            {
                pair = pair with { DeltaNoise = Math.Sqrt((pair.DeltaNoise * pair.DeltaNoise) + (rounding * rounding)) };
            }

            (ohms, double error) = RobustSlope(used);
            return (ohms, error, count);
        }
    }

    /// <summary>
    /// The slope of voltage against charge on the steady side with current, in volts per ampere hour; times the charge between
    /// two samples it is how far the voltage moved because charge flowed, not because current changed. One row a step, one
    /// column a cell; null where too little is seen.
    /// </summary>
    private static double?[,] Drifts(SessionSamples session, ChargeCount charge, CurrentStep[] steps)
    {
        var drifts = new double?[steps.Length, session.Cells.Count];
        for (int i = 0; i < steps.Length; i++)
        {
            bool after = Math.Abs(session.Current![steps[i].After]) >= Math.Abs(session.Current[steps[i].Before]);
            (int From, int To) stretch = Steady(session, steps[i], after);
            (int From, int To)? other = null;
            for (int cell = 0; cell < session.Cells.Count; cell++)
            {
                SampleColumn volts = session.Cells[cell];
                drifts[i, cell] = Drift(charge.RunningAh, volts, stretch);
                if (drifts[i, cell] is null)
                {
                    other ??= Steady(session, steps[i], !after);
                    drifts[i, cell] = Drift(charge.RunningAh, volts, other.Value);
                }
            }
        }

        return drifts;
    }

    // The samples that tell the slope on one side of a step, the last one excluded; none where current did not stay long enough.
    private static (int From, int To) Steady(SessionSamples session, CurrentStep step, bool after)
    {
        SampleColumn current = session.Current!;
        SampleColumn time = session.Time;
        int i = after ? step.After : step.Before;
        if (session.IsRest(i))
        {
            return (0, 0);
        }

        // Before the step the latest minute serves, if polarisation had time to build up ahead of it.
        double origin = time[i];
        double level = current[i];
        double tolerance = 0.05 * Math.Abs(level);
        double from = after ? DriftFromSeconds : 0;
        double to = after ? DriftToSeconds : DriftBeforeSeconds;
        bool longEnough = after;
        int nearest = -1;
        int farthest = -1;
        for (; i >= 0 && i < current.Length && Math.Abs(current[i] - level) <= tolerance; i += after ? 1 : -1)
        {
            double apart = Math.Abs(time[i] - origin);
            if (apart > to)
            {
                longEnough |= apart >= DriftBeforeSeconds + SettledSeconds;
                if (after || longEnough)
                {
                    break;
                }
            }
            else if (apart >= from)
            {
                nearest = nearest < 0 ? i : nearest;
                farthest = i;
            }
        }

        return !longEnough || nearest < 0 ? (0, 0) : after ? (nearest, farthest + 1) : (farthest, nearest + 1);
    }

    private static double? Drift(SampleColumn charge, SampleColumn volts, (int From, int To) stretch)
    {
        // Taken less the first of them, so that the products keep their digits.
        double firstAh = double.NaN;
        double firstVolts = double.NaN;
        int count = 0;
        double q = 0, v = 0, qq = 0, qv = 0;
        for (int i = stretch.From; i < stretch.To; i++)
        {
            double level = volts[i];
            if (!double.IsFinite(level))
            {
                continue;
            }

            double there = charge[i];
            if (count++ == 0)
            {
                (firstAh, firstVolts) = (there, level);
            }

            there -= firstAh;
            level -= firstVolts;
            q += there;
            v += level;
            qq += there * there;
            qv += there * level;
        }

        double spread = qq - (q * q / count);
        return count < FewestForDrift || !(spread > 0) ? null : (qv - (q * v / count)) / spread;
    }

    /// <summary>Slope through the origin, weighted by the steps' own errors and by Huber's weights; error from the former or from the scatter of the steps, whichever is larger.</summary>
    internal static (double Ohms, double StandardError) RobustSlope(ReadOnlySpan<StepVoltage> pairs)
    {
        var precision = new double[pairs.Length];
        var shares = new double[pairs.Length];
        var residuals = new double[pairs.Length];
        var ordered = new double[pairs.Length];
        for (int i = 0; i < pairs.Length; i++)
        {
            precision[i] = 1 / Square(Math.Max(pairs[i].DeltaNoise, SmallestNoise));
            shares[i] = 1;
        }

        double ohms = Slope(pairs, precision, shares);
        for (int round = 0; round < 5 && pairs.Length >= 4; round++)
        {
            for (int i = 0; i < pairs.Length; i++)
            {
                residuals[i] = Math.Abs(pairs[i].DeltaVolts - (ohms * pairs[i].DeltaAmperes)) * Math.Sqrt(precision[i]);
            }

            residuals.CopyTo(ordered, 0);
            double limit = 1.5 * Math.Max(1, ArrayStatistics.MedianInplace(ordered) / 0.6745);
            for (int i = 0; i < pairs.Length; i++)
            {
                shares[i] = residuals[i] <= limit ? 1 : limit / residuals[i];
            }

            ohms = Slope(pairs, precision, shares);
        }

        double information = 0;
        double chiSquare = 0;
        for (int i = 0; i < pairs.Length; i++)
        {
            double weight = shares[i] * precision[i];
            information += weight * Square(pairs[i].DeltaAmperes);
            chiSquare += weight * Square(pairs[i].DeltaVolts - (ohms * pairs[i].DeltaAmperes));
        }

        double scatter = pairs.Length < 2 ? 0 : chiSquare / (pairs.Length - 1);
        return (ohms, Math.Sqrt(Math.Max(1, scatter) / information));
    }

    private static double Slope(ReadOnlySpan<StepVoltage> pairs, double[] precision, double[] shares)
    {
        double products = 0;
        double squares = 0;
        for (int i = 0; i < pairs.Length; i++)
        {
            double weighted = shares[i] * precision[i] * pairs[i].DeltaAmperes;
            products += weighted * pairs[i].DeltaVolts;
            squares += weighted * pairs[i].DeltaAmperes;
        }

        return products / squares;
    }

    private static double Square(double value) => value * value;
}
