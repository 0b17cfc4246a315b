namespace PackCare.Analysis.Summaries;

/// <summary>Charge and energy by the trapezoid rule, in and out apart.</summary>
/// <param name="InAh">Charge in, in ampere hours.</param>
/// <param name="OutAh">Charge out, in ampere hours.</param>
/// <param name="InWh">Energy in, in watt hours; null without voltage.</param>
/// <param name="OutWh">Energy out, in watt hours; null without voltage.</param>
/// <param name="RunningAh">Net charge since the start at every sample, in ampere hours.</param>
internal sealed record ChargeCount(double InAh, double OutAh, double? InWh, double? OutWh, SampleColumn RunningAh)
{
    private const double SecondsPerHour = 3600;

    /// <summary>Counts a session; null where neither current nor a charge counter was logged.</summary>
    public static ChargeCount? Of(SessionSamples session) =>
        session.Current is not null ? FromCurrent(session, session.Current)
        : session.ChargeCounter is not null ? FromCounter(session, session.ChargeCounter)
        : null;

    private static ChargeCount FromCurrent(SessionSamples session, SampleColumn current)
    {
        SampleColumn? volts = session.PackVolts ?? (session.Cells.Count == 0 ? null : session.CellSum);
        var charge = new SignedSum();
        var energy = new SignedSum();
        var marks = new List<Mark>();
        double running = 0;
        int last = -1;
        for (int i = 0; i < session.Count; i++)
        {
            if (i % SampleColumn.PageRows == 0)
            {
                marks.Add(new Mark(running, last));
            }

            if (!double.IsFinite(current[i]))
            {
                continue;
            }

            if (last >= 0 && Hours(session, current, last, i) is var hours and > 0)
            {
                running += charge.Add(current[last], current[i], hours);
                if (volts is not null && double.IsFinite(volts[i] * volts[last]))
                {
                    energy.Add(current[last] * volts[last], current[i] * volts[i], hours);
                }
            }

            last = i;
        }

        var column = new SampleColumn(session.Count, (page, into) => Run(marks[page], page, into, session.Count, i => double.IsFinite(current[i]), (from, to) =>
            Hours(session, current, from, to) is var hours and > 0 ? (current[from] + current[to]) / 2 * hours : 0));
        return new ChargeCount(charge.In, charge.Out, volts is null ? null : energy.In, volts is null ? null : energy.Out, column);
    }

    /// <summary>Where the count stood before a page, and the last sample with a reading before it.</summary>
    private readonly record struct Mark(double Running, int Last);

    // Counts one page again from its mark, in the same steps.
    private static void Run(Mark mark, int page, double[] into, int count, Func<int, bool> isRead, Func<int, int, double> step)
    {
        int first = page * SampleColumn.PageRows;
        int end = Math.Min(count, first + into.Length);
        (double running, int last) = mark;
        for (int i = first; i < end; i++)
        {
            if (isRead(i))
            {
                running += last >= 0 ? step(last, i) : 0;
                last = i;
            }

            into[i - first] = running;
        }
    }

    // Time between two samples; 0 where what flowed between them cannot be told.
    private static double Hours(SessionSamples session, SampleColumn current, int from, int to)
    {
        double seconds = session.Time[to] - session.Time[from];
        return seconds <= Math.Max(60, 10 * (session.IntervalSeconds ?? 0)) || BridgesGap(session, current, from, to) ? seconds / SecondsPerHour : 0;
    }

    // Across a hole in the log the trapezoid is a guess; it is only made where the current is the same on both sides.
    private static bool BridgesGap(SessionSamples session, SampleColumn current, int from, int to) =>
        Math.Abs(current[to] - current[from]) <= Math.Max(session.RestAmperes, 0.05 * Math.Abs(current[to]));

    private static ChargeCount FromCounter(SessionSamples session, SampleColumn counter)
    {
        double inAh = 0;
        double outAh = 0;
        var marks = new List<Mark>();
        double running = 0;
        int last = -1;
        for (int i = 0; i < counter.Length; i++)
        {
            if (i % SampleColumn.PageRows == 0)
            {
                marks.Add(new Mark(running, last));
            }

            if (!double.IsFinite(counter[i]))
            {
                continue;
            }

            double step = last < 0 ? 0 : counter[i] - counter[last];
            running += step;
            inAh += Math.Max(step, 0);
            outAh += Math.Max(-step, 0);
            last = i;
        }

        var column = new SampleColumn(session.Count, (page, into) =>
            Run(marks[page], page, into, session.Count, i => double.IsFinite(counter[i]), (from, to) => counter[to] - counter[from]));
        return new ChargeCount(inAh, outAh, null, null, column);
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
