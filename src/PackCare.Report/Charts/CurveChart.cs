using PackCare.Analysis.Assessments;
using PackCare.Report.Look;
using PackCare.Report.Pages;

namespace PackCare.Report.Charts;

/// <summary>Voltage against charge of each cell, and the distance from the pack's median curve, which is where causes differ.</summary>
internal static class CurveChart
{
    // Cells that agree differ by a step or two of the logger's resolution; means over stretches show the course, the
    // shade around them how far single samples went.
    private const int Stretches = 48;

    public static Chart Make(PackView view, ChargeCurve? curve)
    {
        bool drawn = curve is { CellVolts.Count: > 1, AmpereHours: not null } && curve.Minutes.Length > 1 && curve.AmpereHours.Max() - curve.AmpereHours.Min() > 1e-6;
        return new Chart(
            "curve",
            "Why does it drift?",
            Answer(view, drawn),
            drawn ? "Above, each cell\u2019s voltage against the charge that went in; below, how far it is from the pack\u2019s median at that moment, as means over stretches with single samples as a shade around them. A charge offset shows where the curve is steep; lower capacity grows towards an end; resistance shows as long as current flows." : null,
            drawn ? [new Panel("Cell voltage against charge", frame => Draw(view, curve!, frame)), new Panel("Distance from the median", frame => DrawDistance(view, curve!, frame))] : [],
            drawn ? Table(curve!) : new DataTable([], []))
        {
            Evidence = view.Assessment.Imbalance.Evidence,
        };
    }

    private static string Answer(PackView view, bool drawn)
    {
        ImbalanceAssessment imbalance = view.Assessment.Imbalance;
        string cause = imbalance.Series.Count == 0 && imbalance.Cause is ImbalanceCause.Undetermined or ImbalanceCause.None && imbalance.RestSpreadMillivolts is null
            ? "No cell voltages at rest are on record, so it cannot be told whether the cells differ."
            : Wording.Sentence(imbalance.Cause, view.FocusCell);
        return cause + (drawn ? "" : " There is no curve to draw: that takes a charge with current and cell voltages.");
    }

    private static Sheet Draw(PackView view, ChargeCurve curve, Frame frame)
    {
        Span x = Span.Around(curve.AmpereHours!)!.Value;
        Span y = Span.Around(curve.CellVolts.SelectMany(values => values))!.Value.Padded(0.08, 0.01);
        var sheet = new Sheet(frame, 220, x, y, Sheet.LabelRoom);
        sheet.MarksX(Scale.Figures(x, frame.Size.IsNarrow ? 4 : 6, "Ah"));
        sheet.MarksY(Scale.Figures(y, 5, "V"));
        LastChargeChart.Lines(sheet, view.FocusCell, curve.AmpereHours!, curve.CellVolts);
        return sheet;
    }

    private static Sheet DrawDistance(PackView view, ChargeCurve curve, Frame frame)
    {
        double[] medians = curve.Medians;
        List<double[]> distances = [.. curve.CellVolts.Select(values => values.Select((volts, row) => (volts - medians[row]) * 1000).ToArray())];
        Span x = Span.Around(curve.AmpereHours!)!.Value;
        Span y = (Span.Around(distances.SelectMany(values => values)) ?? new Span(-1, 1)).Padded(0.1, 2);
        var sheet = new Sheet(frame, 200, x, y, Sheet.LabelRoom);
        sheet.MarksX(Scale.Figures(x, frame.Size.IsNarrow ? 4 : 6, "Ah"));
        sheet.MarksY(Scale.Figures(y, 4, "mV"));
        sheet.Level(0);
        int? focus = view.FocusCell;
        var labels = new List<EndLabel>();
        foreach (int cell in Enumerable.Range(1, distances.Count).OrderBy(cell => cell == focus))
        {
            bool inFocus = cell == focus;
            CellStyle style = CellStyle.Of(cell);
            (double[] xs, double[] means, double[] low, double[] high) = Thinning.Sums(curve.AmpereHours!, distances[cell - 1], Stretches);
            if (xs.Length == 0)
            {
                continue;
            }

            if (curve.Minutes.Length > Stretches)
            {
                sheet.Band(xs, low, high, style.Tone, inFocus ? 0.25 : 0.1);
            }

            sheet.Line(xs, means, style.Line(inFocus));
            labels.Add(new EndLabel(xs[^1], means[^1], DriftChart.CellLabel(cell, inFocus), inFocus));
        }

        sheet.EndLabels(labels);
        return sheet;
    }

    private static DataTable Table(ChargeCurve curve)
    {
        int count = curve.Minutes.Length;
        int step = Math.Max(1, (count + 59) / 60);
        List<int> rows = [.. Enumerable.Range(0, count).Where(row => row % step == 0 || row == count - 1)];
        return new DataTable(
            ["Charge (Ah)", "Median (V)", .. Enumerable.Range(1, curve.CellVolts.Count).Select(cell => $"Cell {cell.ToString(System.Globalization.CultureInfo.InvariantCulture)} (mV from it)")],
            [.. rows.Select(row =>
            {
                double median = curve.Medians[row];
                return (IReadOnlyList<string>)
                [
                    Wording.Figure(curve.AmpereHours![row], 3),
                    double.IsNaN(median) ? "no reading" : Wording.Figure(median, 3),
                    .. curve.CellVolts.Select(values => double.IsFinite(values[row] - median) ? Wording.Signed((values[row] - median) * 1000, 0) : "no reading"),
                ];
            })],
            step > 1 ? $"Every {step.ToString(System.Globalization.CultureInfo.InvariantCulture)}th of {Wording.Count(count, "sample", "samples")}; the data export has them all." : null);
    }
}
