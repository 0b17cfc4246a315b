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

    private const double LargestBaselineError = 0.4;
    private const double LargestStatedError = 0.12;

    // What differs between sessions besides the logged noise: state of charge, and the moment of the step within the interval, which
    // is about as long as the lag (ours, no source).
    private const double Repeatability = 0.02;
    private const double RepeatabilityPerSecond = 0.003;

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
        double typical = judged.Count == 0 ? 0 : Estimates.WeightedMean([.. judged.Select(item => Estimates.FromNormal(item.Point.Milliohms.Value, item.OwnMilliohms, 1))]).Value;
        CellResistance[] cells = [.. Enumerable.Range(1, record.Cells).Select(cell => OfCell(cell, [.. judged.Where(item => item.Point.Cell == cell)], usage, act, record.Now, shares, typical))];
        return new ResistanceAssessment(
            TemperatureCorrection.ReferenceCelsius,
            judged.Count == 0 ? null : judged[0].Point.LagSeconds,
            cells,
            LeadMilliohms(record),
            limits[LimitKey.ResistanceWatch],
            act,
            [.. series.Select(item => shares.TryGetValue(item.Point, out double share) && share < 1 ? item.Point with { Share = share } : item.Point)])
        {
            Temperature = TemperatureEvidence.Of(record),
        };
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

    private static CellResistance OfCell(int cell, IReadOnlyList<CorrectedResistance> items, UsageTimeline usage, double act, DateTimeOffset now, Dictionary<ResistancePoint, double> shares, double typical)
    {
        if (items.Count == 0)
        {
            var none = new Trend.TooLittleData(0, TrendLine.Needed, "no resistance on record");
            return new CellResistance(cell, null, null, null, none, null, new LimitDate.TooLittleData(none.Reason));
        }

        double seconds = Math.Min(items[0].Point.LagSeconds, LongestSeconds);
        double repeat = Math.Sqrt((Repeatability * Repeatability) + Math.Pow(RepeatabilityPerSecond * seconds, 2));
        WeightedPoint[] points = [.. items.Select(item => new WeightedPoint(item.Point.At, item.Point.Milliohms.Value, Math.Sqrt(Math.Pow(item.OwnMilliohms, 2) + Math.Pow(repeat * typical, 2))))];
        Trend trend = TrendLine.Fit(points, out IReadOnlyList<double> counted);
        foreach ((CorrectedResistance item, double share) in items.Zip(counted))
        {
            shares[item.Point] = share;
        }

        double lag = SharedError + (SharedErrorPerSecond * seconds);
        double temperature = Shared(items, points);
        Estimate latest = Latest(trend, points);
        Estimate? baseline = null;
        Estimate? ratio = null;
        if (items.Count >= RatioSessions)
        {
            bool onLine = trend is Trend.Fitted { Knee: null } line && TrendLine.At(line, points[^1].At).Value == latest.Value;
            (baseline, ratio) = onLine ? AlongLine((Trend.Fitted)trend, points, counted) : Apart(points, latest);
        }

        // A baseline that may as well be half of what it is makes no ratio. Held against all cells, lest the luckiest readings pass.
        double stated = Math.Pow(points.Take(BaselineSessions).Sum(point => Math.Pow(point.StandardError, -2)), -0.5);
        if (stated > LargestStatedError * typical || baseline?.StandardError > LargestBaselineError * typical || baseline?.Value <= 0)
        {
            (baseline, ratio) = (null, null);
        }

        // Of the ratio only that part of the temperature's error counts by which now and then differ.
        double early = Shared([.. items.Take(BaselineSessions)], [.. points.Take(BaselineSessions)]) / (baseline?.Value ?? 1);
        double late = Shared([.. items.TakeLast(BaselineSessions)], [.. points.TakeLast(BaselineSessions)]) / latest.Value;
        return new CellResistance(
            cell,
            Estimates.Widen(latest, Math.Sqrt((temperature * temperature) + Math.Pow(lag * latest.Value, 2))),
            baseline is null ? null : Estimates.Widen(baseline, Math.Sqrt(Math.Pow(early * baseline.Value, 2) + Math.Pow(lag * baseline.Value, 2))),
            ratio is null ? null : Estimates.Widen(ratio, Math.Abs(late - early) * ratio.Value),
            trend,
            usage.SlopePer100Cycles(points),
            baseline is null
                ? new LimitDate.TooLittleData(items.Count < RatioSessions ? $"{items.Count} of {RatioSessions} sessions that a baseline takes" : "the first sessions scatter too much for a baseline")
                : LimitCrossing.Find(trend, act * baseline.Value, rising: true, now, act * baseline.StandardError, Slowing.DaysTo(trend, points, act * baseline.Value)));
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

    private static (Estimate Baseline, Estimate Ratio) Apart(WeightedPoint[] points, Estimate latest)
    {
        Estimate baseline = Estimates.WeightedMean([.. points.Take(BaselineSessions).Select(AsEstimate)]);
        return (baseline, Estimates.Ratio(latest, baseline));
    }

    /// <summary>
    /// The first sessions, brought back to the first of them along the line, lest a pack that wears fast be held against a worn
    /// baseline; and the line's value now over that. Both are weighted sums of the same readings, L = sum l y and B = sum b y, and err
    /// against each other by the slope: Var = V sum l^2/w, Cov = V sum l b/w, with V and w those of the line.
    /// </summary>
    private static (Estimate Baseline, Estimate Ratio) AlongLine(Trend.Fitted line, WeightedPoint[] points, IReadOnlyList<double> counted)
    {
        double[] x = [.. points.Select(point => (point.At - points[0].At).TotalDays)];
        double[] w = [.. points.Select((point, i) => counted[i] / Math.Pow(point.StandardError, 2))];
        double all = w.Sum();
        double middle = w.Zip(x, (a, b) => a * b).Sum() / all;
        double spread = w.Zip(x, (a, b) => a * (b - middle) * (b - middle)).Sum();
        double variance = Math.Pow(line.SlopePerDay.StandardError, 2) * spread;
        double early = points.Take(BaselineSessions).Sum(point => Math.Pow(point.StandardError, -2));
        double first = points.Take(BaselineSessions).Zip(x, (point, day) => day * Math.Pow(point.StandardError, -2)).Sum() / early;
        double now = 0;
        double then = 0;
        double nowSquare = 0;
        double thenSquare = 0;
        double both = 0;
        for (int i = 0; i < x.Length; i++)
        {
            double slope = w[i] * (x[i] - middle) / spread;
            double l = (w[i] / all) + ((x[^1] - middle) * slope);
            double b = (i < BaselineSessions ? Math.Pow(points[i].StandardError, -2) / early : 0) - (first * slope);
            now += l * points[i].Value;
            then += b * points[i].Value;
            nowSquare += variance * l * l / w[i];
            thenSquare += variance * b * b / w[i];
            both += variance * l * b / w[i];
        }

        double ratio = now / then;
        double error = Math.Abs(ratio) * Math.Sqrt(Math.Max(0, (nowSquare / (now * now)) + (thenSquare / (then * then)) - (2 * both / (now * then))));
        return (
            Estimates.FromT(then, Math.Sqrt(thenSquare), line.ResidualDegreesOfFreedom, Math.Min(BaselineSessions, points.Length)),
            Estimates.FromT(ratio, error, line.ResidualDegreesOfFreedom, points.Length));
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

        Estimate mean = Estimates.MeanOfFew(leads);
        return Estimates.Widen(mean, LeadSharedError * mean.Value);
    }
}
