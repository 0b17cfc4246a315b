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

    // What differs between sessions besides the logged noise: state of charge, moment of the step within the interval.
    private const double Repeatability = 0.02;

    /// <summary>The assessment.</summary>
    public static ResistanceAssessment Of(PackRecord record, UsageTimeline usage, LimitTable limits)
    {
        IReadOnlyList<ResistancePoint> series = ResistanceSeries.Of(record);
        IReadOnlyList<ResistancePoint> judged = Judged(series);
        double act = limits[LimitKey.ResistanceRetire];
        var shares = new Dictionary<ResistancePoint, double>(ReferenceEqualityComparer.Instance);
        CellResistance[] cells = [.. Enumerable.Range(1, record.Cells).Select(cell => OfCell(cell, [.. judged.Where(point => point.Cell == cell)], usage, act, record.Now, shares))];
        return new ResistanceAssessment(
            TemperatureCorrection.ReferenceCelsius,
            judged.Count == 0 ? null : judged[0].LagSeconds,
            cells,
            LeadMilliohms(record),
            limits[LimitKey.ResistanceWatch],
            act,
            [.. series.Select(point => shares.TryGetValue(point, out double share) && share < 1 ? point with { Share = share } : point)]);
    }

    /// <summary>
    /// The one series that the judgement rests on: of those long enough for a ratio, the one that tells most (the sum of 1/SE^2);
    /// with none, the longest. Steps come before instruments, and short lags before long ones, where they are level.
    /// </summary>
    public static IReadOnlyList<ResistancePoint> Judged(IReadOnlyList<ResistancePoint> series) =>
        series
            .GroupBy(point => (point.FromInstrument, FromSession: point.SessionId is not null, point.LagSeconds))
            .OrderByDescending(group => group.Count(point => point.Cell == 1) >= RatioSessions)
            .ThenByDescending(group => group.Count(point => point.Cell == 1) >= RatioSessions ? group.Sum(Information) : group.Count())
            .ThenBy(group => group.Key.FromInstrument)
            .ThenBy(group => group.Key.LagSeconds)
            .FirstOrDefault()?.ToList() ?? [];

    private static double Information(ResistancePoint point) => Math.Pow(Weigh(point).StandardError / point.Milliohms.Value, -2);

    private static CellResistance OfCell(int cell, IReadOnlyList<ResistancePoint> points, UsageTimeline usage, double act, DateTimeOffset now, Dictionary<ResistancePoint, double> shares)
    {
        if (points.Count == 0)
        {
            var none = new Trend.TooLittleData(0, TrendLine.Needed, "no resistance on record");
            return new CellResistance(cell, null, null, null, none, null, new LimitDate.TooLittleData(none.Reason));
        }

        WeightedPoint[] weighted = [.. points.Select(point => Weigh(point))];
        Trend trend = TrendLine.Fit(weighted, out IReadOnlyList<double> counted);
        foreach ((ResistancePoint point, double share) in points.Zip(counted))
        {
            shares[point] = share;
        }

        Estimate latest = Latest(trend, weighted);
        Estimate? baseline = points.Count < RatioSessions ? null : Estimates.WeightedMean([.. weighted.Take(BaselineSessions).Select(AsEstimate)]);
        return new CellResistance(
            cell,
            latest,
            baseline,
            baseline is null ? null : Estimates.Ratio(latest, baseline),
            trend,
            usage.SlopePer100Cycles(weighted),
            baseline is null
                ? new LimitDate.TooLittleData($"{points.Count} of {RatioSessions} sessions that a baseline takes")
                : LimitCrossing.Find(trend, act * baseline.Value, rising: true, now));
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

    private static WeightedPoint Weigh(ResistancePoint point) =>
        new(point.At, point.Milliohms.Value, Math.Sqrt(Math.Pow(point.Milliohms.StandardError, 2) + Math.Pow(Repeatability * point.Milliohms.Value, 2)));

    private static Estimate AsEstimate(WeightedPoint point) => Estimates.FromNormal(point.Value, point.StandardError, 1);

    private static Estimate? LeadMilliohms(PackRecord record)
    {
        List<Estimate> leads = [.. record.Sessions
            .Select(session => session.Summary.LeadResistance)
            .OfType<ResistanceReading>()
            .TakeLast(3)
            .Select(lead => Estimates.FromNormal(lead.Ohms * 1000, lead.StandardErrorOhms * 1000, lead.Count))];
        return leads.Count == 0 ? null : Estimates.WeightedMean(leads);
    }
}
