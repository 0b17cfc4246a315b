using PackCare.Analysis.Assessments;
using PackCare.Report.Pages;

namespace PackCare.Report.Charts;

/// <summary>A pack of the report with what several charts and pages ask of it.</summary>
/// <param name="Pack">The pack.</param>
/// <param name="Offset">The offset in which dates are shown.</param>
/// <param name="Order">The order in which dates are written.</param>
internal sealed record PackView(ReportPack Pack, TimeSpan Offset, DateOrder Order = DateOrder.YearFirst)
{
    /// <summary>Writes dates.</summary>
    public DateText Dates => DateText.In(Order);

    public PackAssessment Assessment => Pack.Assessment;

    public string Label => Assessment.Pack.Label;

    public int Cells => Assessment.Pack.Details.Cells;

    /// <summary>
    /// Readings that may be compared with each other: those after a full charge where there are two of them, else those at
    /// a like level, within a tenth of a volt of the usual one. Where a cell loses charge at rest it is the other way
    /// round: every full charge levels the cells again, and only rests in between show the loss.
    /// </summary>
    public IReadOnlyList<DeviationPoint> Comparable
    {
        get
        {
            IReadOnlyList<DeviationPoint> all = Assessment.Imbalance.Series;
            List<DeviationPoint> full = [.. all.Where(point => point.AfterFullCharge)];
            if (Assessment.Imbalance.Cause == ImbalanceCause.SelfDischarge && AtLikeLevel([.. all.Except(full)]) is { Count: >= 2 } between)
            {
                return between;
            }

            return full.Count >= 2 ? full : AtLikeLevel(all);
        }
    }

    /// <summary>The cell furthest from the median at the latest rest; null where all are within a millivolt.</summary>
    public int? FurthestCell => Furthest(Assessment.Imbalance.DeviationMillivolts);

    /// <summary>The latest reading after a full charge, where a spread should be small; null without any.</summary>
    public DeviationPoint? LatestAfterFull => Assessment.Imbalance.Series.LastOrDefault(point => point.AfterFullCharge);

    /// <summary>
    /// Whether a cell drifts: for certain, and by so much that a year of it would use up a third of the watch limit. A
    /// smaller drift is told in words and pointed out nowhere.
    /// </summary>
    public bool Drifts => Assessment.Imbalance is { TrendCell: not null, TrendMillivolts: Trend.Fitted { SlopePerDay: { } slope } }
        && (slope.Low > 0 || slope.High < 0)
        && Math.Abs(slope.Value) * 365.25 >= SpreadLimit.Watch(Assessment) / 3;

    /// <summary>
    /// The cell that charts point out: the one the cause names, else the one that drifts, else the one furthest off after
    /// a full charge that left the cells too far apart; null where nothing is the matter, so that no chart cries wolf.
    /// </summary>
    public int? FocusCell
    {
        get
        {
            if (Assessment.Imbalance.CauseCell is { } named)
            {
                return named;
            }

            if (Drifts)
            {
                return Assessment.Imbalance.TrendCell;
            }

            return LatestAfterFull is { Millivolts: { Count: > 0 } off } && off.Max() - off.Min() >= SpreadLimit.Watch(Assessment) ? Furthest(off) : null;
        }
    }

    /// <summary>The cell with the highest resistance against its baseline, else with the highest resistance.</summary>
    public CellResistance? ResistanceCell =>
        Assessment.Resistance.Cells.Where(cell => cell.Ratio is not null).MaxBy(cell => cell.Ratio!.Value)
        ?? Assessment.Resistance.Cells.Where(cell => cell.Milliohms is not null).MaxBy(cell => cell.Milliohms!.Value);

    /// <summary>The moment for which the report holds, in the offset in which dates are shown.</summary>
    public DateTimeOffset Now => Assessment.Assessed.ToOffset(Offset);

    public double Day(DateTimeOffset at) => Scale.Day(at, Offset);

    public string Date(DateTimeOffset at) => Dates.Day(at, Offset);

    public string Moment(DateTimeOffset at) => Dates.Moment(at, Offset);

    private static List<DeviationPoint> AtLikeLevel(IReadOnlyList<DeviationPoint> points)
    {
        if (points.Count == 0)
        {
            return [];
        }

        double usual = points.Select(point => point.MeanVolts).Order().ElementAt(points.Count / 2);
        return [.. points.Where(point => Math.Abs(point.MeanVolts - usual) <= 0.1)];
    }

    private static int? Furthest(IReadOnlyList<double> deviations) =>
        deviations.All(value => Math.Abs(value) < 1) ? null : deviations.Select((value, at) => (Math.Abs(value), at)).MaxBy(pair => pair.Item1).at + 1;
}
