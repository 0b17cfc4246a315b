namespace PackCare.Analysis.Standings;

/// <summary>
/// Keeps a finding from flapping: what has passed its limit is only over once it is clearly back. The walk is over what was
/// read, in order of time, so that the outcome rests on the record alone and not on when it was looked at.
/// </summary>
internal static class Latch
{
    private const int Window = 5;

    /// <summary>How far back towards harmless a figure must go, as a part of the way from harmless to the limit.</summary>
    public const double Release = 0.8;

    /// <summary>
    /// Whether a figure that grows with harm passed its limit and has not been back under the release since: running medians of five
    /// readings, on with two in a row at the limit, off below harmless + 0.8 (limit - harmless).
    /// </summary>
    /// <param name="readings">In order of time.</param>
    /// <param name="limit">The limit.</param>
    /// <param name="harmless">The figure of a pack in order.</param>
    public static bool Holds(IReadOnlyList<double> readings, double limit, double harmless)
    {
        double sign = Math.Sign(limit - harmless);
        double release = harmless + (Release * (limit - harmless));
        bool on = false;
        bool before = false;
        for (int end = 3; end <= readings.Count; end++)
        {
            double middle = sign * MedianBefore(readings, end);
            bool past = middle >= sign * limit;
            on = (past && before) || (on && middle >= sign * release);
            before = past;
        }

        return on;
    }

    private static double MedianBefore(IReadOnlyList<double> readings, int end)
    {
        Span<double> window = stackalloc double[Math.Min(Window, end)];
        for (int i = 0; i < window.Length; i++)
        {
            window[i] = readings[end - window.Length + i];
        }

        window.Sort();
        return (window[(window.Length - 1) / 2] + window[window.Length / 2]) / 2;
    }

    /// <summary>Whether single readings, walked back from the latest, stay past the release until one is past the limit; one under the release by itself ends nothing.</summary>
    /// <param name="latestFirst">Readings that grow with harm, the latest first.</param>
    /// <param name="limit">The limit.</param>
    /// <param name="release">Where it ends, short of the limit.</param>
    public static bool StillPastTwice(IEnumerable<double> latestFirst, double limit, double release)
    {
        bool under = false;
        foreach (double value in latestFirst)
        {
            if (value >= limit)
            {
                return true;
            }

            if (under && value < release)
            {
                return false;
            }

            under = value < release;
        }

        return false;
    }

    /// <summary>Whether single readings, walked back from the latest, stay past the release until one is past the limit.</summary>
    /// <param name="latestFirst">Readings that grow with harm, the latest first.</param>
    /// <param name="limit">The limit.</param>
    /// <param name="release">Where it ends, short of the limit.</param>
    public static bool StillPast(IEnumerable<double> latestFirst, double limit, double release) =>
        latestFirst.TakeWhile(value => value >= release).Any(value => value >= limit);
}
