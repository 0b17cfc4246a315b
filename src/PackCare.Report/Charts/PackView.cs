using PackCare.Analysis.Assessments;
using PackCare.Report.Pages;

namespace PackCare.Report.Charts;

/// <summary>A pack of the report with what several charts and pages ask of it.</summary>
/// <param name="Pack">The pack.</param>
/// <param name="Offset">The offset in which dates are shown.</param>
internal sealed record PackView(ReportPack Pack, TimeSpan Offset)
{
    public PackAssessment Assessment => Pack.Assessment;

    public string Label => Assessment.Pack.Label;

    public int Cells => Assessment.Pack.Details.Cells;

    /// <summary>Readings that may be compared with each other: those after a full charge where there are two of them, else all.</summary>
    public IReadOnlyList<DeviationPoint> Comparable
    {
        get
        {
            List<DeviationPoint> full = [.. Assessment.Imbalance.Series.Where(point => point.AfterFullCharge)];
            return full.Count >= 2 ? full : Assessment.Imbalance.Series;
        }
    }

    /// <summary>The cell that stands out in level: the drifting one, else the one furthest from the median at the latest rest.</summary>
    public int? DriftCell => Assessment.Imbalance.TrendCell ?? Furthest(Assessment.Imbalance.DeviationMillivolts);

    /// <summary>The cell that charts point out: <see cref="DriftCell"/> where something is the matter with it; null where all differ by little, so that no chart cries wolf.</summary>
    public int? FocusCell
    {
        get
        {
            ImbalanceAssessment imbalance = Assessment.Imbalance;
            bool drifts = imbalance.TrendMillivolts is Trend.Fitted { SlopePerDay: { } slope } && (slope.Low > 0 || slope.High < 0);
            bool apart = imbalance.RestSpreadMillivolts >= SpreadLimit.Watch(Assessment);
            bool caused = imbalance.Cause is not (ImbalanceCause.None or ImbalanceCause.Undetermined);
            return drifts || apart || caused ? DriftCell : null;
        }
    }

    /// <summary>The cell with the highest resistance against its baseline, else with the highest resistance.</summary>
    public CellResistance? ResistanceCell =>
        Assessment.Resistance.Cells.Where(cell => cell.Ratio is not null).MaxBy(cell => cell.Ratio!.Value)
        ?? Assessment.Resistance.Cells.Where(cell => cell.Milliohms is not null).MaxBy(cell => cell.Milliohms!.Value);

    /// <summary>The moment for which the report holds, in the offset in which dates are shown.</summary>
    public DateTimeOffset Now => Assessment.Assessed.ToOffset(Offset);

    public double Day(DateTimeOffset at) => Scale.Day(at, Offset);

    public string Date(DateTimeOffset at) => Wording.Date(at, Offset);

    private static int? Furthest(IReadOnlyList<double> deviations) =>
        deviations.Count == 0 || deviations.All(value => value == 0) ? null : deviations.Select((value, at) => (Math.Abs(value), at)).MaxBy(pair => pair.Item1).at + 1;
}
