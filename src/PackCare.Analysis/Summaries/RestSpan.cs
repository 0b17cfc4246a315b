namespace PackCare.Analysis.Summaries;

/// <summary>Rest at the start and at the end of a session.</summary>
/// <param name="StartEnd">Index of the last sample of the rest at the start, or -1.</param>
/// <param name="EndStart">Index of the first sample of the rest at the end, or the sample count.</param>
/// <param name="StartSeconds">Length of the rest seen at the start, or null.</param>
/// <param name="EndSeconds">Length of the rest seen at the end, or null.</param>
/// <param name="Time">Seconds since the session's start.</param>
internal sealed record RestSpan(int StartEnd, int EndStart, double? StartSeconds, double? EndSeconds, SampleColumn Time)
{
    /// <summary>After so long without current, differences between cells have settled enough to be compared; the level itself has not.</summary>
    public const double SettledSeconds = 30;

    // As long as this, so that noise evens out, and at the end no more than half the rest, so that settling does not count.
    private const double AveragedSeconds = 60;
    private const int FewestAveraged = 3;

    /// <summary>Finds the rests.</summary>
    public static RestSpan Of(SessionSamples session)
    {
        int count = session.Count;
        int start = -1;
        while (start + 1 < count && session.IsRest(start + 1))
        {
            start++;
        }

        int end = count;
        while (end - 1 > start && session.IsRest(end - 1))
        {
            end--;
        }

        bool allRest = start == count - 1;
        double? startSeconds = start < 0 ? null : session.Time[start] - session.Time[0];
        double? endSeconds = allRest ? startSeconds : end >= count ? null : session.Time[count - 1] - session.Time[end];
        return new RestSpan(start, allRest ? 0 : end, startSeconds, endSeconds, session.Time);
    }

    /// <summary>The rest voltage before current flowed: mean over the last minute before it, or null.</summary>
    public double? StartVolts(SampleColumn volts)
    {
        if (StartEnd < 0)
        {
            return null;
        }

        int from = StartEnd;
        while (from > 0 && Time[StartEnd] - Time[from - 1] <= AveragedSeconds)
        {
            from--;
        }

        return MeanOf(volts, from, StartEnd + 1);
    }

    /// <summary>The rest voltage after current had stopped: mean over the last part of a rest that was long enough, or null.</summary>
    public double? EndVolts(SampleColumn volts)
    {
        if (!(EndSeconds >= SettledSeconds))
        {
            return null;
        }

        int last = volts.Length - 1;
        double span = Math.Min(AveragedSeconds, 0.5 * EndSeconds.Value);
        int from = last;
        while (from > EndStart && (last - from + 1 < FewestAveraged || Time[last] - Time[from - 1] <= span))
        {
            from--;
        }

        return MeanOf(volts, from, last + 1);
    }

    private static double? MeanOf(SampleColumn values, int from, int to)
    {
        double sum = 0;
        int count = 0;
        for (int i = from; i < to; i++)
        {
            double value = values[i];
            if (double.IsFinite(value))
            {
                sum += value;
                count++;
            }
        }

        return count == 0 ? null : sum / count;
    }
}
