namespace PackCare.Analysis.Summaries;

/// <summary>Charge and energy by the trapezoid rule, in and out apart.</summary>
/// <param name="InAh">Charge in, in ampere hours.</param>
/// <param name="OutAh">Charge out, in ampere hours.</param>
/// <param name="InWh">Energy in, in watt hours; null without voltage.</param>
/// <param name="OutWh">Energy out, in watt hours; null without voltage.</param>
/// <param name="RunningAh">Net charge since the start at every sample, in ampere hours.</param>
internal sealed record ChargeCount(double InAh, double OutAh, double? InWh, double? OutWh, double[] RunningAh)
{
    private const double SecondsPerHour = 3600;

    /// <summary>Counts a session; null where neither current nor a charge counter was logged.</summary>
    public static ChargeCount? Of(SessionArrays session) =>
        session.Current is not null ? FromCurrent(session, session.Current)
        : session.ChargeCounter is not null ? FromCounter(session, session.ChargeCounter)
        : null;

    private static ChargeCount FromCurrent(SessionArrays session, double[] current)
    {
        double[]? volts = Volts(session);
        var charge = new SignedSum();
        var energy = new SignedSum();
        var running = new double[session.Count];
        double gapLimit = Math.Max(60, 10 * (session.IntervalSeconds ?? 0));
        int last = -1;
        for (int i = 0; i < session.Count; i++)
        {
            running[i] = i == 0 ? 0 : running[i - 1];
            if (!double.IsFinite(current[i]))
            {
                continue;
            }

            if (last >= 0 && Bridges(session, last, i, gapLimit))
            {
                double hours = (session.Time[i] - session.Time[last]) / SecondsPerHour;
                running[i] += charge.Add(current[last], current[i], hours);
                if (volts is not null && double.IsFinite(volts[i] * volts[last]))
                {
                    energy.Add(current[last] * volts[last], current[i] * volts[i], hours);
                }
            }

            last = i;
        }

        return new ChargeCount(charge.In, charge.Out, volts is null ? null : energy.In, volts is null ? null : energy.Out, running);
    }

    // Across a hole in the log the trapezoid is a guess; it is only made where the current is the same on both sides.
    private static bool Bridges(SessionArrays session, int from, int to, double gapLimit) =>
        session.Time[to] - session.Time[from] <= gapLimit
        || Math.Abs(session.Current![to] - session.Current[from]) <= Math.Max(session.RestAmperes, 0.05 * Math.Abs(session.Current[to]));

    private static ChargeCount FromCounter(SessionArrays session, double[] counter)
    {
        double inAh = 0;
        double outAh = 0;
        var running = new double[session.Count];
        double last = double.NaN;
        for (int i = 0; i < counter.Length; i++)
        {
            running[i] = i == 0 ? 0 : running[i - 1];
            if (!double.IsFinite(counter[i]))
            {
                continue;
            }

            double step = counter[i] - last;
            if (double.IsFinite(step))
            {
                running[i] += step;
                inAh += Math.Max(step, 0);
                outAh += Math.Max(-step, 0);
            }

            last = counter[i];
        }

        return new ChargeCount(inAh, outAh, null, null, running);
    }

    private static double[]? Volts(SessionArrays session)
    {
        if (session.PackVolts is not null)
        {
            return session.PackVolts;
        }

        return session.Cells.Count == 0 ? null : [.. Enumerable.Range(0, session.Count).Select(i => session.Cells.Sum(cell => cell[i]))];
    }

    private sealed class SignedSum
    {
        public double In { get; private set; }

        public double Out { get; private set; }

        // Where the sign turns within the interval, the two triangles are counted apart.
        public double Add(double from, double to, double hours)
        {
            double area = (from + to) / 2 * hours;
            if (from * to < 0)
            {
                double crossing = from / (from - to);
                Put(from / 2 * crossing * hours);
                Put(to / 2 * (1 - crossing) * hours);
            }
            else
            {
                Put(area);
            }

            return area;
        }

        private void Put(double area)
        {
            In += Math.Max(area, 0);
            Out += Math.Max(-area, 0);
        }
    }
}
