using PackCare.Analysis.Assessments;
using PackCare.Analysis.Limits;
using PackCare.Analysis.Records;
using PackCare.Analysis.Statistics;
using PackCare.Analysis.Trends;
using PackCare.Analysis.Usage;
using PackCare.Core.Estimates;

namespace PackCare.Analysis.Capacity;

/// <summary>Judges the capacity of a pack.</summary>
internal static class CapacityJudge
{
    private const int Latest = 3;

    // A current shunt and its counter are good to about this much (ours, no source); it shifts all readings of an instrument alike.
    private const double ScaleError = 0.005;

    /// <summary>The assessment.</summary>
    public static CapacityAssessment Of(PackRecord record, LimitTable limits)
    {
        IReadOnlyList<CapacityReading> raw = CapacityReadings.Of(record);
        UnbiasedReadings unbiased = CurveBias.Remove(raw, record.Profile.Curve);
        IReadOnlyList<CapacityReading> readings = unbiased.Readings;
        WeightedPoint[] points = [.. readings.Select(reading => new WeightedPoint(reading.At, reading.AmpereHours, Math.Max(reading.OwnError, 0.005 * reading.AmpereHours)))];
        Trend trend = unbiased.Widen(TrendLine.Fit(points, out IReadOnlyList<double> shares), points, shares);
        Estimate? latest = LatestAh(unbiased, points, trend);
        Estimate? first = record.RatedAh is not null || readings.Count < TrendLine.Needed ? null : Estimates.WeightedMean([.. readings.Take(Latest).Select(AsEstimate)]);
        double? reference = record.RatedAh ?? first?.Value;
        double act = limits[LimitKey.CapacityRetire];
        Estimate? per100 = new UsageTimeline(record, reference ?? latest?.Value).SlopePer100Cycles(points);
        return new CapacityAssessment(
            latest,
            reference,
            record.RatedAh is not null,
            reference is null || latest is null ? null : Health(latest, reference.Value, first),
            trend,
            reference is null || per100 is null ? null : Estimates.Scale(per100, 100 / reference.Value),
            limits[LimitKey.CapacityWatch],
            act,
            reference is null
                ? new LimitDate.TooLittleData("neither a rated capacity nor enough measured ones to hold against")
                : LimitCrossing.Find(trend, act / 100 * reference.Value, rising: false, record.Now, Math.Sqrt(Math.Pow(ScaleError * reference.Value, 2) + Math.Pow(act / 100 * (first?.StandardError ?? 0), 2)), Slowing.DaysTo(trend, points, act / 100 * reference.Value)),
            [.. readings.Select((reading, i) => new CapacityPoint(
                reading.At,
                reading.SessionId,
                Estimates.FromNormal(reading.AmpereHours, reading.StandardError, 1),
                reading.Span >= CapacityReadings.CompleteSpan,
                shares[i]))],
            Efficiency(raw))
        {
            FirstMeasuredAh = first,
        };
    }

    // The rated capacity is a stated figure; a first measured one errs too. What both share, the curve and the scale, is not taken off: a little too wide.
    private static Estimate Health(Estimate latest, double reference, Estimate? first) => first is null
        ? Estimates.Scale(latest, 100 / reference)
        : Estimates.Scale(Estimates.Ratio(latest, first), 100) with { Count = latest.Count };

    // As they were read: with the curve's error taken off, groups of charges and of discharges would agree by construction.
    private static Estimate? Efficiency(IReadOnlyList<CapacityReading> readings)
    {
        CapacityReading[] charging = [.. readings.Where(reading => reading.Charging)];
        CapacityReading[] discharging = [.. readings.Where(reading => !reading.Charging)];
        return charging.Length < 2 || discharging.Length < 2 ? null : Estimates.Ratio(Level(discharging), Level(charging));
    }

    private static Estimate Level(CapacityReading[] readings)
    {
        Estimate mean = Estimates.WeightedMean([.. readings.Select(reading => Estimates.FromNormal(reading.AmpereHours, reading.StandardError, 1))]);
        return Estimates.FromNormal(mean.Value, Math.Sqrt((mean.StandardError * mean.StandardError) + Math.Pow(readings.Min(reading => reading.CurveError), 2)), readings.Length);
    }

    // The curve's error is the same for all sessions over the same part of the charge: no mean makes it smaller. A trend has it in it.
    private static Estimate? LatestAh(UnbiasedReadings unbiased, WeightedPoint[] points, Trend trend)
    {
        IReadOnlyList<CapacityReading> readings = unbiased.Readings;
        if (readings.Count == 0)
        {
            return null;
        }

        Estimate level = trend is Trend.Fitted line
            ? TrendLine.At(line, readings[^1].At)
            : Estimates.Widen(
                Estimates.WeightedMean([.. points.TakeLast(Latest).Select(point => Estimates.FromNormal(point.Value, point.StandardError, 1))]),
                unbiased.LeftInLatest(Latest));
        return Estimates.Widen(level, ScaleError * level.Value) with { Count = readings.Count };
    }

    private static Estimate AsEstimate(CapacityReading reading) => Estimates.FromNormal(reading.AmpereHours, reading.OwnError, 1);
}
