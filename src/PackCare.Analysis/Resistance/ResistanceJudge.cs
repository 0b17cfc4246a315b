using PackCare.Analysis.Assessments;
using PackCare.Analysis.Limits;
using PackCare.Analysis.Records;
using PackCare.Analysis.Statistics;
using PackCare.Analysis.Trends;
using PackCare.Analysis.Usage;
using PackCare.Core.Estimates;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Resistance;

/// <summary>Judges the resistances of a pack.</summary>
internal static class ResistanceJudge
{
    /// <summary>How many sessions make the baseline.</summary>
    public const int BaselineSessions = 5;

    /// <summary>How many sessions a ratio takes: a baseline and something to hold against it.</summary>
    public const int RatioSessions = 6;

    private const double LargestBaselineError = 0.2;

    // What differs between sessions besides the logged noise: state of charge, moment of the step within the interval.
    private const double Repeatability = 0.02;

    // What no number of sessions evens out: the lag is only known to within the interval of the log, over which resistance grows
    // by a good third of a percent a second where polarisation builds up over half a minute or so (ours, no source).
    private const double SharedError = 0.01;
    private const double SharedErrorPerSecond = 0.003;
    private const double LongestSeconds = 10;

    // Two meters that read the same thing differ by about this in scale (ours, no source).
    private const double LeadSharedError = 0.003;

    /// <summary>The assessment.</summary>
    public static ResistanceAssessment Of(PackRecord record, UsageTimeline usage, LimitTable limits)
    {
        IReadOnlyList<CorrectedResistance> series = ResistanceSeries.Of(record);
        List<CorrectedResistance> judged = Judge(series);
        double act = limits[LimitKey.ResistanceRetire];
        var shares = new Dictionary<ResistancePoint, double>(ReferenceEqualityComparer.Instance);
        CellResistance[] cells = [.. Enumerable.Range(1, record.Cells).Select(cell => OfCell(cell, [.. judged.Where(item => item.Point.Cell == cell)], usage, act, record.Now, shares))];
        return new ResistanceAssessment(
            TemperatureCorrection.ReferenceCelsius,
            judged.Count == 0 ? null : judged[0].Point.LagSeconds,
            cells,
            LeadMilliohms(record),
            limits[LimitKey.ResistanceWatch],
            act,
            [.. series.Select(item => shares.TryGetValue(item.Point, out double share) && share < 1 ? item.Point with { Share = share } : item.Point)]);
    }

    /// <summary>The one series that the judgement rests on, of those on record.</summary>
    public static IReadOnlyList<ResistancePoint> Judged(ResistanceAssessment assessment) =>
        [.. Judge([.. assessment.Series.Select(point => new CorrectedResistance(point, point.Milliohms.StandardError, 0))]).Select(item => item.Point)];

    /// <summary>
    /// Of those long enough for a ratio, the one that tells most (the sum of 1/SE^2); with none, the longest. Steps come before
    /// instruments, and short lags before long ones, where they are level.
    /// </summary>
    private static List<CorrectedResistance> Judge(IReadOnlyList<CorrectedResistance> series) =>
        series
            .GroupBy(item => (item.Point.FromInstrument, FromSession: item.Point.SessionId is not null, item.Point.LagSeconds))
            .OrderByDescending(group => Sessions(group) >= RatioSessions)
            .ThenByDescending(group => Sessions(group) >= RatioSessions ? group.Sum(Information) : group.Count())
            .ThenBy(group => group.Key.FromInstrument)
            .ThenBy(group => group.Key.LagSeconds)
            .FirstOrDefault()?.ToList() ?? [];

    private static int Sessions(IEnumerable<CorrectedResistance> group) => group.Count(item => item.Point.Cell == 1);

    private static double Information(CorrectedResistance item)
    {
        double relative = item.Point.Milliohms.StandardError / item.Point.Milliohms.Value;
        return 1 / ((relative * relative) + (Repeatability * Repeatability));
    }

    private static CellResistance OfCell(int cell, IReadOnlyList<CorrectedResistance> items, UsageTimeline usage, double act, DateTimeOffset now, Dictionary<ResistancePoint, double> shares)
    {
        if (items.Count == 0)
        {
            var none = new Trend.TooLittleData(0, TrendLine.Needed, "no resistance on record");
            return new CellResistance(cell, null, null, null, none, null, new LimitDate.TooLittleData(none.Reason));
        }

        WeightedPoint[] points = [.. items.Select(item => new WeightedPoint(item.Point.At, item.Point.Milliohms.Value, Math.Sqrt(Math.Pow(item.OwnMilliohms, 2) + Math.Pow(Repeatability * item.Point.Milliohms.Value, 2))))];
        Trend trend = TrendLine.Fit(points, out IReadOnlyList<double> counted);
        foreach ((CorrectedResistance item, double share) in items.Zip(counted))
        {
            shares[item.Point] = share;
        }

        double lag = SharedError + (SharedErrorPerSecond * Math.Min(items[0].Point.LagSeconds, LongestSeconds));
        double temperature = Shared(items, points);
        Estimate latest = Latest(trend, points);
        Estimate? baseline = items.Count < RatioSessions ? null : Baseline(trend, points);
        // A baseline that may as well be half of what it is makes no ratio.
        baseline = baseline?.StandardError > LargestBaselineError * baseline?.Value ? null : baseline;
        // Of the ratio only that part of the temperature's error counts by which now and then differ.
        double early = Shared([.. items.Take(BaselineSessions)], [.. points.Take(BaselineSessions)]) / (baseline?.Value ?? 1);
        double late = Shared([.. items.TakeLast(BaselineSessions)], [.. points.TakeLast(BaselineSessions)]) / latest.Value;
        return new CellResistance(
            cell,
            Estimates.Widen(latest, Math.Sqrt((temperature * temperature) + Math.Pow(lag * latest.Value, 2))),
            baseline is null ? null : Estimates.Widen(baseline, Math.Sqrt(Math.Pow(early * baseline.Value, 2) + Math.Pow(lag * baseline.Value, 2))),
            baseline is null ? null : Estimates.Widen(Estimates.Ratio(latest, baseline), Math.Abs(late - early) * latest.Value / baseline.Value),
            trend,
            usage.SlopePer100Cycles(points),
            baseline is null
                ? new LimitDate.TooLittleData(items.Count < RatioSessions ? $"{items.Count} of {RatioSessions} sessions that a baseline takes" : "the first sessions scatter too much for a baseline")
                : LimitCrossing.Find(trend, act * baseline.Value, rising: true, now, act * baseline.StandardError));
    }

    private static double Shared(IReadOnlyList<CorrectedResistance> items, WeightedPoint[] points)
    {
        double weights = points.Sum(point => Math.Pow(point.StandardError, -2));
        return items.Zip(points, (item, point) => item.TemperatureMilliohms * Math.Pow(point.StandardError, -2)).Sum() / weights;
    }

    // The line's value today, unless the last three agree with each other and not with it: then something happened.
    private static Estimate Latest(Trend trend, WeightedPoint[] points)
    {
        Estimate last = Estimates.WeightedMean([.. points.TakeLast(3).Select(AsEstimate)]);
        if (trend is not Trend.Fitted line)
        {
            return last;
        }

        Estimate fitted = TrendLine.At(line, points[^1].At);
        double apart = Math.Abs(last.Value - fitted.Value) / Math.Sqrt(Math.Pow(last.StandardError, 2) + Math.Pow(fitted.StandardError, 2));
        return apart > 3 ? last : fitted;
    }

    // The first sessions, brought back to the first of them along the line, lest a pack that wears fast be held against a worn baseline.
    private static Estimate Baseline(Trend trend, WeightedPoint[] points)
    {
        double slope = trend is Trend.Fitted { Knee: null } line ? line.SlopePerDay.Value : 0;
        return Estimates.WeightedMean([.. points.Take(BaselineSessions).Select(point => Estimates.FromNormal(point.Value - (slope * (point.At - points[0].At).TotalDays), point.StandardError, 1))]);
    }

    private static Estimate AsEstimate(WeightedPoint point) => Estimates.FromNormal(point.Value, point.StandardError, 1);

    private static Estimate? LeadMilliohms(PackRecord record)
    {
        List<Estimate> leads = [.. record.Sessions
            .Select(session => session.Summary.LeadResistance)
            .OfType<ResistanceReading>()
            .TakeLast(3)
            .Select(lead => Estimates.FromNormal(lead.Ohms * 1000, lead.StandardErrorOhms * 1000, lead.Count))];
        if (leads.Count == 0)
        {
            return null;
        }

        Estimate mean = Estimates.WeightedMean(leads);
        return Estimates.Widen(mean, LeadSharedError * mean.Value);
    }
}
