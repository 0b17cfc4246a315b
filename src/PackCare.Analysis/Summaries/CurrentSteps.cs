namespace PackCare.Analysis.Summaries;

/// <summary>Finds the current steps of a session.</summary>
internal static class CurrentSteps
{
    /// <summary>A ramp longer than this says more of polarisation than of resistance.</summary>
    public const double LongestSeconds = 15;

    // Polarisation of pouch and round cells dies down over some tens of seconds; a minute of steady current is taken to be enough (ours, no source).
    private const double SettledSeconds = 60;
    private const double LookBackSeconds = 90;
    private const int MostHeld = 8;

    /// <summary>Lags into which steps are sorted, in seconds.</summary>
    private static readonly double[] Lags = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60];

    /// <summary>The steps in order of time.</summary>
    public static IReadOnlyList<CurrentStep> Find(SessionSamples session)
    {
        if (session.Current is not { } current || session.IntervalSeconds is not { } interval || session.PeakAmperes <= 0)
        {
            return [];
        }

        double active = session.ChangeAmperes;
        double enough = Math.Max(10 * session.CurrentResolution, 0.15 * session.PeakAmperes);
        double longest = Math.Max(LongestSeconds, 1.5 * interval);
        var steps = new List<CurrentStep>();
        int i = 0;
        while (i < current.Length - 1)
        {
            double change = current[i + 1] - current[i];
            if (!(Math.Abs(change) > active))
            {
                i++;
                continue;
            }

            int end = i + 1;
            while (end < current.Length - 1 && (current[end + 1] - current[end]) * change > 0 && Math.Abs(current[end + 1] - current[end]) > active)
            {
                end++;
            }

            double delta = current[end] - current[i];
            double seconds = session.Time[end] - session.Time[i];
            if (Math.Abs(delta) >= enough && seconds <= longest && Steady(current, i - 1, i, active) && Steady(current, end, end + 1, active))
            {
                int calm = CalmFrom(session, current, i, active, interval);
                bool settled = session.Time[i] - session.Time[calm] >= Math.Max(SettledSeconds, 4 * interval) || (calm == 0 && session.IsRest(i));
                double tolerance = Math.Max(1.5 * session.CurrentResolution, 0.02 * Math.Abs(delta));
                steps.Add(new CurrentStep(i, end, delta, seconds, Moment(session, current, i, end), calm, HeldTo(session, current, end, tolerance, interval), settled));
            }

            i = end;
        }

        return steps;
    }

    /// <summary>
    /// The nominal lag of a step, nearest to its length by ratio. A sudden change falls into one interval of the log or, where
    /// readings are averaged or the change lasts a moment, into two: both count as one interval.
    /// </summary>
    public static double NominalLag(double seconds, double intervalSeconds)
    {
        double length = seconds <= 2.2 * intervalSeconds ? intervalSeconds : seconds;
        return Lags.MinBy(lag => Math.Abs(Math.Log(lag / Math.Max(length, 1e-3))));
    }

    // A ramp, or a change that readings show in two parts, has its moment in the middle of what changed.
    private static double Moment(SessionSamples session, SampleColumn current, int from, int to)
    {
        double sum = 0;
        for (int i = from + 1; i <= to; i++)
        {
            sum += (current[i] - current[i - 1]) * (session.Time[i] + session.Time[i - 1]) / 2;
        }

        return sum / (current[to] - current[from]);
    }

    private static int CalmFrom(SessionSamples session, SampleColumn current, int last, double active, double interval)
    {
        int from = last;
        double reach = Math.Max(LookBackSeconds, 6 * interval);
        while (from > 0 && session.Time[last] - session.Time[from - 1] <= reach && Math.Abs(current[from - 1] - current[last]) <= active)
        {
            from--;
        }

        return from;
    }

    private static int HeldTo(SessionSamples session, SampleColumn current, int first, double tolerance, double interval)
    {
        int to = first;
        while (to + 1 < current.Length && to - first < MostHeld && Math.Abs(current[to + 1] - current[first]) <= tolerance && session.Time[to + 1] - session.Time[to] <= 1.5 * interval)
        {
            to++;
        }

        return to;
    }

    // At the very start or end there is no neighbour to differ.
    private static bool Steady(SampleColumn current, int a, int b, double active) =>
        a < 0 || b >= current.Length || Math.Abs(current[b] - current[a]) <= active;
}
