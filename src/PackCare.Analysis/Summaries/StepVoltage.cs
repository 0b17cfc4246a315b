namespace PackCare.Analysis.Summaries;

/// <summary>What one current step did to the voltage of one cell.</summary>
/// <param name="DeltaVolts">Change of voltage, read at the stated lag after the step.</param>
/// <param name="DeltaAmperes">Change of current.</param>
/// <param name="DeltaNoise">One standard error of the change of voltage, in volts.</param>
internal readonly record struct StepVoltage(double DeltaVolts, double DeltaAmperes, double DeltaNoise)
{
    private const double BeforeSeconds = 30;
    private const double UnsettledSeconds = 10;
    private const int MostBefore = 10;
    private const double AfterSeconds = 8;
    private const int MostAfter = 6;

    /// <summary>
    /// Reads a step. The voltage before is the mean of what was read at rest, or the line through the last readings under steady
    /// current, carried on; the voltage after is read off a line through the first few readings at the lag asked for.
    /// </summary>
    /// <param name="session">The samples.</param>
    /// <param name="charge">The count.</param>
    /// <param name="step">The step.</param>
    /// <param name="volts">Readings of the cell.</param>
    /// <param name="lagSeconds">Time after the step at which the voltage is wanted, in seconds.</param>
    /// <param name="voltsPerAh">How the voltage moves with charge under steady current; null where not known.</param>
    /// <param name="noise">One standard deviation of a reading, in volts.</param>
    /// <param name="resolution">The step of the voltage channel, in volts.</param>
    public static StepVoltage? Read(SessionSamples session, ChargeCount charge, CurrentStep step, SampleColumn volts, double lagSeconds, double? voltsPerAh, double noise, double resolution)
    {
        SampleColumn current = session.Current!;
        double slope = voltsPerAh ?? 0;
        double origin = charge.RunningAh[step.Before];

        int before = step.Before;
        double reach = step.Settled ? BeforeSeconds : UnsettledSeconds;
        while (before > step.CalmFrom && step.Before - before + 1 < MostBefore && session.Time[step.Before] - session.Time[before - 1] <= reach)
        {
            before--;
        }

        int wanted = step.Held ? Math.Clamp((int)Math.Round(AfterSeconds / (session.IntervalSeconds ?? AfterSeconds)), 2, MostAfter) : 1;
        int after = Math.Min(step.HeldTo, step.After + wanted - 1);
        // A rest from the session's start on has no trend of its own; any other stretch is carried on by its trend, past the step where that is still on the move.
        bool flat = session.IsRest(step.Before) && step.CalmFrom == 0;
        Span<double> x = stackalloc double[MostBefore + MostAfter + 1];
        Span<double> y = stackalloc double[MostBefore + MostAfter + 1];
        int read = Readings(before, step.Before, x, y);
        if (Line(x[..read], y[..read], flat ? null : step.Settled ? 0 : lagSeconds, noise, resolution) is not { } old)
        {
            return null;
        }

        read = Readings(step.After, after, x, y);
        if (Line(x[..read], y[..read], after > step.After ? Math.Max(lagSeconds, session.Time[step.After] - step.Moment) : null, noise, resolution) is not { } now)
        {
            return null;
        }

        double amperes = Mean(current, step.After, after) - Mean(current, before, step.Before);
        return new StepVoltage(now.Volts - old.Volts, amperes, Math.Sqrt(now.Variance + old.Variance));

        // Seconds since the step, and volts freed of how they move with charge.
        int Readings(int from, int to, Span<double> seconds, Span<double> level)
        {
            int count = 0;
            for (int i = from; i <= to; i++)
            {
                double value = volts[i] - (slope * (charge.RunningAh[i] - origin));
                if (double.IsFinite(value))
                {
                    (seconds[count], level[count]) = (session.Time[i] - step.Moment, value);
                    count++;
                }
            }

            return count;
        }
    }

    private static double Mean(SampleColumn column, int from, int to)
    {
        double sum = 0;
        for (int i = from; i <= to; i++)
        {
            sum += column[i];
        }

        return sum / (to - from + 1);
    }

    private static double Mean(ReadOnlySpan<double> values)
    {
        double sum = 0;
        foreach (double value in values)
        {
            sum += value;
        }

        return sum / values.Length;
    }

    // The value of a straight line through the readings at a moment; their mean where no moment is given or they are too few for a line.
    private static (double Volts, double Variance)? Line(ReadOnlySpan<double> x, ReadOnlySpan<double> y, double? at, double noise, double resolution)
    {
        if (x.IsEmpty)
        {
            return null;
        }

        double middle = Mean(x);
        double value = Mean(y);
        double spread = 0;
        double product = 0;
        (double low, double high) = (y[0], y[0]);
        for (int i = 0; i < x.Length; i++)
        {
            spread += (x[i] - middle) * (x[i] - middle);
            product += (x[i] - middle) * y[i];
            (low, high) = (Math.Min(low, y[i]), Math.Max(high, y[i]));
        }

        double share = 1.0 / x.Length;
        if (at is { } moment && spread > 0 && (x.Length > 4 || (moment >= x[0] && moment <= x[^1])))
        {
            value += (moment - middle) * product / spread;
            share += (moment - middle) * (moment - middle) / spread;
        }
        else if (at is not null && x.Length > 1)
        {
            // Too few for a line that reaches beyond them.
            (value, share) = (y[^1], 1);
        }

        // Readings that are all alike were rounded alike: no mean makes that smaller.
        bool alike = high - low < 0.5 * resolution;
        return (value, Math.Max(noise * noise * share, alike ? resolution * resolution / 12 : 0));
    }
}
