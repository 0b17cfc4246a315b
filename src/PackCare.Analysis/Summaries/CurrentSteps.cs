namespace PackCare.Analysis.Summaries;

/// <summary>Finds the current steps of a session.</summary>
internal static class CurrentSteps
{
    /// <summary>A ramp longer than this says more of polarisation than of resistance.</summary>
    public const double LongestSeconds = 15;

    /// <summary>Lags into which steps are sorted, in seconds.</summary>
    private static readonly double[] Lags = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60];

    /// <summary>The steps in order of time.</summary>
    public static IReadOnlyList<CurrentStep> Find(SessionArrays session)
    {
        if (session.Current is not { } current || session.IntervalSeconds is not { } interval || session.PeakAmperes <= 0)
        {
            return [];
        }

        double active = Math.Max(3 * session.CurrentResolution, 0.03 * session.PeakAmperes);
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
                bool held = end + 1 < current.Length
                    && Math.Abs(current[end + 1] - current[end]) <= Math.Max(1.5 * session.CurrentResolution, 0.02 * Math.Abs(delta))
                    && session.Time[end + 1] - session.Time[end] <= 1.5 * interval;
                steps.Add(new CurrentStep(i, end, delta, seconds, held));
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

    // At the very start or end there is no neighbour to differ.
    private static bool Steady(double[] current, int a, int b, double active) =>
        a < 0 || b >= current.Length || Math.Abs(current[b] - current[a]) <= active;
}
