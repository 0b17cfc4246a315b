using System.Globalization;
using PackCare.Core.Sessions;
using PackCare.Report.Look;
using PackCare.Report.Pages;

namespace PackCare.Report.Charts;

/// <summary>Cell voltages, current and temperature of the last charge over time.</summary>
internal static class LastChargeChart
{
    // Of each stretch the extremes stay, so this is finer than the picture can show.
    private const int Buckets = 160;
    private const int TableRows = 120;

    public static Chart Make(PackView view, ChargeCurve? curve)
    {
        bool drawn = curve is not null && curve.Minutes.Length > 1 && (curve.CellVolts.Count > 0 || curve.PackVolts is not null);
        return new Chart(
            "last-charge",
            "What did the last charge look like?",
            Answer(view, drawn ? curve : null),
            drawn && curve!.CellVolts.Count > 0 ? "Each line is a cell, named at its end. The panels share one time axis." : null,
            drawn ? Panels(view, curve!) : [],
            drawn ? Table(curve!) : new DataTable([], []));
    }

    private static string Answer(PackView view, ChargeCurve? curve)
    {
        if (view.Pack.LastCharge is not { } session)
        {
            return "Nothing to draw: no charge is on record.";
        }

        if (curve is null)
        {
            return $"The charge of {view.Date(session.Started)} is on record without samples that could be drawn.";
        }

        SessionSummary summary = session.Summary;
        string charge = summary.ChargeInAh is { } ah ? $"{Wording.Figure(ah, 2)}\u00A0Ah went in within " : "It took ";
        var sentences = new List<string>
        {
            $"Charge of {view.Moment(session.Started)}{(session.TimeQuality == TimeQuality.Exact ? "" : " (date concluded, not logged)")}: {LowerIf(charge)}{Wording.Duration(summary.DurationSeconds)}; {(summary.Completed ? "it tapered off to its end" : "it was cut short, or its end cannot be told")}.",
        };
        List<CellSummary> ended = [.. summary.Cells.Where(cell => cell.EndVolts is not null)];
        if (ended.Count > 1)
        {
            CellSummary lowest = ended.MinBy(cell => cell.EndVolts)!;
            CellSummary highest = ended.MaxBy(cell => cell.EndVolts)!;
            double spread = (highest.EndVolts!.Value - lowest.EndVolts!.Value) * 1000;
            sentences.Add(spread < 0.5
                ? $"At the last reading all cells stood at {Wording.Figure(highest.EndVolts.Value, 3)}\u00A0V."
                : $"At the last reading the cells were {Wording.Millivolts(spread)} apart: cell {Number(lowest.Cell)} lowest with {Wording.Figure(lowest.EndVolts.Value, 3)}\u00A0V, cell {Number(highest.Cell)} highest with {Wording.Figure(highest.EndVolts.Value, 3)}\u00A0V.");
        }

        sentences.Add(summary is { MinCelsius: { } coolest, MaxCelsius: { } warmest }
            ? $"The temperature lay between {Wording.Figure(coolest, 0)} and {Wording.Figure(warmest, 0)}\u00A0\u00B0C."
            : "No temperature was logged.");
        return string.Join(' ', sentences);
    }

    private static string LowerIf(string text) => Wording.LowerFirst(text);

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);

    private static List<Panel> Panels(PackView view, ChargeCurve curve)
    {
        var panels = new List<Panel>();
        if (curve.CellVolts.Count > 0)
        {
            panels.Add(new Panel("Cell voltage", frame => DrawCells(view, curve, frame)));
        }
        else
        {
            panels.Add(new Panel("Pack voltage", frame => DrawOne(curve, curve.PackVolts!, "V", Tones.Blue, 200, frame)));
        }

        if (curve.Amperes is { } amperes)
        {
            panels.Add(new Panel("Current", frame => DrawOne(curve, amperes, "A", Tones.Black, 130, frame)));
        }

        if (curve.Celsius is { } celsius)
        {
            panels.Add(new Panel("Temperature", frame => DrawOne(curve, celsius, "\u00B0C", Tones.Vermillion, 110, frame)));
        }

        return panels;
    }

    private static Span Time(ChargeCurve curve) => new(0, Math.Max(curve.Minutes[^1], 1));

    private static Sheet DrawCells(PackView view, ChargeCurve curve, Frame frame)
    {
        Span x = Time(curve);
        Span y = Span.Around(curve.CellVolts.SelectMany(values => values))!.Value.Padded(0.08, 0.01);
        var sheet = new Sheet(frame, 240, x, y, Sheet.LabelRoom);
        sheet.MarksX(Scale.Figures(x, frame.Size.IsNarrow ? 4 : 6, "min"));
        sheet.MarksY(Scale.Figures(y, 5, "V"));
        Lines(sheet, view.FocusCell, curve.Minutes, curve.CellVolts);
        return sheet;
    }

    /// <summary>Draws one line a cell, thinned, with labels at their ends.</summary>
    internal static void Lines(Sheet sheet, int? focus, double[] xs, IReadOnlyList<double[]> cells)
    {
        var labels = new List<EndLabel>();
        foreach (int cell in Enumerable.Range(1, cells.Count).OrderBy(cell => cell == focus))
        {
            bool inFocus = cell == focus;
            CellStyle style = CellStyle.Of(cell);
            int[] rows = Thinning.Rows([cells[cell - 1]], Buckets);
            double[] thinX = Thinning.Pick(xs, rows);
            double[] thinY = Thinning.Pick(cells[cell - 1], rows);
            sheet.Line(thinX, thinY, style.Line(inFocus));
            int[] marked = [.. Enumerable.Range(0, rows.Length).Where(at => at % Math.Max(1, rows.Length / 8) == (rows.Length / 16) + (cell % 4))];
            sheet.Points(Thinning.Pick(thinX, marked), Thinning.Pick(thinY, marked), style.Mark, style.Tone, inFocus, inFocus ? 3.4f : 2.4f);
            int last = Array.FindLastIndex(thinY, double.IsFinite);
            if (last >= 0)
            {
                labels.Add(new EndLabel(thinX[last], thinY[last], DriftChart.CellLabel(cell, inFocus), inFocus));
            }
        }

        sheet.EndLabels(labels);
    }

    private static Sheet DrawOne(ChargeCurve curve, double[] values, string unit, Tone tone, int height, Frame frame)
    {
        Span x = Time(curve);
        Span around = Span.Around(values)!.Value.Padded(0.1, unit == "V" ? 0.01 : 0.5);
        Span y = unit == "A" ? new Span(Math.Min(0, around.Low), Math.Max(0, around.High)) : around;
        var sheet = new Sheet(frame, height, x, y, Sheet.LabelRoom);
        sheet.MarksX(Scale.Figures(x, frame.Size.IsNarrow ? 4 : 6, "min"));
        sheet.MarksY(Scale.Figures(y, 3, unit));
        int[] rows = Thinning.Rows([values], Buckets);
        sheet.Line(Thinning.Pick(curve.Minutes, rows), Thinning.Pick(values, rows), new Stroke(tone, 1.6));
        return sheet;
    }

    private static DataTable Table(ChargeCurve curve)
    {
        int count = curve.Minutes.Length;
        int step = Math.Max(1, (count + TableRows - 1) / TableRows);
        List<int> rows = [.. Enumerable.Range(0, count).Where(row => row % step == 0 || row == count - 1)];
        var columns = new List<(string Name, double[] Values, int Digits)> { ("Time (min)", curve.Minutes, 1) };
        columns.AddRange(curve.CellVolts.Select((values, at) => ($"Cell {Number(at + 1)} (V)", values, 3)));
        if (curve.CellVolts.Count == 0 && curve.PackVolts is { } pack)
        {
            columns.Add(("Pack (V)", pack, 3));
        }

        if (curve.Amperes is { } amperes)
        {
            columns.Add(("Current (A)", amperes, 2));
        }

        if (curve.AmpereHours is { } charge)
        {
            columns.Add(("Charge (Ah)", charge, 3));
        }

        if (curve.Celsius is { } celsius)
        {
            columns.Add(("Temperature (\u00B0C)", celsius, 1));
        }

        return new DataTable(
            [.. columns.Select(column => column.Name)],
            [.. rows.Select(row => (IReadOnlyList<string>)[.. columns.Select(column => double.IsFinite(column.Values[row]) ? Wording.Figure(column.Values[row], column.Digits) : "no reading")])],
            step > 1 ? $"Every {Number(step)}th of {Wording.Count(count, "sample", "samples")}; the data export has them all." : null);
    }
}
