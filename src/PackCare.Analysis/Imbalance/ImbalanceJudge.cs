using PackCare.Analysis.Assessments;
using PackCare.Analysis.Limits;
using PackCare.Analysis.Records;
using PackCare.Analysis.Trends;
using PackCare.Analysis.Usage;
using PackCare.Core.Estimates;

namespace PackCare.Analysis.Imbalance;

/// <summary>Judges how level the cells are.</summary>
internal static class ImbalanceJudge
{
    /// <summary>The assessment.</summary>
    public static ImbalanceAssessment Of(PackRecord record, ImbalanceFacts facts, UsageTimeline usage, double? capacityAh, LimitTable limits)
    {
        RestReading? latest = record.Rests.Count == 0 ? null : record.Rests[^1];
        (int? cell, Trend trend, Estimate? perCycle) = Drift(record, facts, usage);
        (ImbalanceCause cause, int? causeCell, IReadOnlyList<string> evidence) = CauseJudge.Judge(record, facts, limits);
        IReadOnlyList<Estimate> offsets = latest is null ? [] : CellOffsets.Percent(latest, record.Profile.Curve);
        return new ImbalanceAssessment(
            latest?.SpreadMillivolts,
            latest?.At,
            latest?.DeviationMillivolts ?? [],
            offsets,
            cell,
            trend,
            perCycle,
            cause,
            evidence,
            [.. record.Rests.Select(reading => new DeviationPoint(reading.At, reading.SessionId, reading.AfterFullCharge, reading.MeanVolts, reading.DeviationMillivolts))],
            capacityAh is null ? [] : [.. offsets.Select(offset => Statistics.Estimates.Scale(offset, capacityAh.Value / 100))],
            causeCell,
            limits[LimitKey.RestSpreadWatch],
            limits[LimitKey.RestSpreadRetire]);
    }

    // Deviations at unlike states of charge are unlike quantities: the trend is of one kind of reading only.
    private static (int? Cell, Trend Trend, Estimate? PerCycle) Drift(PackRecord record, ImbalanceFacts facts, UsageTimeline usage)
    {
        IReadOnlyList<RestReading> readings = facts.AfterFull.Count >= TrendLine.Needed ? facts.AfterFull : facts.AtRest;
        var trends = Enumerable.Range(0, record.Cells)
            .Select(cell =>
            {
                WeightedPoint[] points = [.. readings.Select(reading => new WeightedPoint(reading.At, reading.DeviationMillivolts[cell], reading.DifferenceError * 1000))];
                return (Cell: cell + 1, Points: points, Trend: TrendLine.Fit(points));
            })
            .ToList();
        if (trends.Count == 0)
        {
            return (null, new Trend.TooLittleData(0, TrendLine.Needed, "no reading at rest on record"), null);
        }

        var chosen = trends.Where(item => item.Trend is Trend.Fitted).OrderByDescending(item => Strength((Trend.Fitted)item.Trend)).FirstOrDefault();
        return chosen.Trend is null
            ? (null, trends[0].Trend, null)
            : (chosen.Cell, chosen.Trend, usage.SlopePer100Cycles(chosen.Points) is { } per100 ? Statistics.Estimates.Scale(per100, 0.01) : null);
    }

    private static double Strength(Trend.Fitted trend) =>
        Math.Abs(trend.SlopePerDay.Value) / Math.Max(trend.SlopePerDay.StandardError, 1e-9);
}
