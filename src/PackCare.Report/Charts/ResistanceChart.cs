using System.Globalization;
using PackCare.Analysis.Assessments;
using PackCare.Core.Estimates;
using PackCare.Report.Look;
using PackCare.Report.Pages;

namespace PackCare.Report.Charts;

/// <summary>Resistance of each cell over time, with the fit and limit of the one that rose most.</summary>
internal static class ResistanceChart
{
    public static Chart Make(PackView view)
    {
        List<ResistancePoint> points = Judged(view.Assessment.Resistance);
        return new Chart(
            "resistance",
            "Is the resistance rising?",
            Answer(view, points),
            points.Count == 0 ? null : HowToRead(view),
            points.Count == 0 ? [] : [new Panel(null, frame => Draw(view, points, frame))],
            Table(view));
    }

    /// <summary>The one series that the judgement rests on; values of another lag or of an instrument are other quantities.</summary>
    private static List<ResistancePoint> Judged(ResistanceAssessment resistance)
    {
        List<ResistancePoint> steps = [.. resistance.Series.Where(point => !point.FromInstrument && (resistance.LagSeconds is not { } lag || Math.Abs(point.LagSeconds - lag) < 1e-6))];
        return steps.Count > 0 ? steps : [.. resistance.Series.Where(point => point.FromInstrument)];
    }

    private static string Answer(PackView view, List<ResistancePoint> points)
    {
        ResistanceAssessment resistance = view.Assessment.Resistance;
        if (points.Count == 0)
        {
            return "Nothing to draw: no resistance could be found. That takes logs with current steps and cell voltages, or an instrument\u2019s readings in spot checks.";
        }

        var sentences = new List<string>();
        if (view.ResistanceCell is not { } cell)
        {
            sentences.Add("Too little data to state a resistance.");
        }
        else
        {
            string name = $"Cell {cell.Cell.ToString(CultureInfo.InvariantCulture)}";
            if (cell.Ratio is { } ratio)
            {
                string past = ratio.Value >= resistance.ActRatio ? $", past the act limit of {Wording.Figure(resistance.ActRatio, 1)}"
                    : ratio.Value >= resistance.WatchRatio ? $", past the watch limit of {Wording.Figure(resistance.WatchRatio, 1)}"
                    : $"; the watch limit is {Wording.Figure(resistance.WatchRatio, 1)}";
                sentences.Add($"{name} stands highest against its own beginning, at {Wording.Interval(ratio, 2)} times its baseline{past}.");
            }
            else if (cell.Milliohms is { } now)
            {
                sentences.Add($"{name} is the highest with {Wording.Interval(now, 1, "m\u03A9")}; there is no baseline yet to hold it against.");
            }

            sentences.Add(TrendSentence(cell, view));
        }

        if (resistance.LeadMilliohms is { } leads)
        {
            sentences.Add($"Leads and connector: {Wording.Interval(leads, 1, "m\u03A9")}.");
        }

        return string.Join(' ', sentences);
    }

    private static string TrendSentence(CellResistance cell, PackView view)
    {
        switch (cell.TrendMilliohms)
        {
            case Trend.TooLittleData little:
                return Wording.TooLittle(little);
            case Trend.Fitted fitted:
                Estimate slope = fitted.SlopePerDay;
                string change = $"{Wording.Signed(slope.Value * 365.25)}\u00A0m\u03A9 a year ({Wording.Signed(slope.Low * 365.25)} to {Wording.Signed(slope.High * 365.25)}; n\u00A0=\u00A0{slope.Count.ToString(CultureInfo.InvariantCulture)})";
                string moves = slope.Low > 0 ? $"It rises by {change}."
                    : slope.High < 0 ? $"It falls, by {change}."
                    : $"Its change, {change}, cannot be told from none.";
                return $"{moves} {Wording.Sentence(cell.LimitReached, $"{Wording.Figure(view.Assessment.Resistance.ActRatio, 1)} times the baseline", view.Now, view.Dates)}";
            default:
                throw new InvalidOperationException("A trend is fitted or has too little data.");
        }
    }

    private static string HowToRead(PackView view)
    {
        ResistanceAssessment resistance = view.Assessment.Resistance;
        string lag = resistance.LagSeconds is { } seconds ? $", {Wording.Plain(seconds)}\u00A0s after a current step" : ", as an instrument read it";
        string focus = view.ResistanceCell is { } cell
            ? $" Marks with 95\u00A0% bars: cell {cell.Cell.ToString(CultureInfo.InvariantCulture)}, hollow where uncertain by more than a quarter; the shaded band is its fitted line with 95\u00A0% confidence."
            : "";
        string others = resistance.Cells.Any(cell => cell.Cell != view.ResistanceCell?.Cell && cell.TrendMilliohms is Trend.Fitted) ? " Of the other cells only the fitted lines are drawn." : "";
        return $"Corrected to {Wording.Figure(resistance.ReferenceCelsius, 0)}\u00A0\u00B0C{lag}.{focus}{others} The toothed lines are the limits.";
    }

    private static Sheet Draw(PackView view, List<ResistancePoint> points, Frame frame)
    {
        ResistanceAssessment resistance = view.Assessment.Resistance;
        CellResistance? focus = view.ResistanceCell;
        Span seen = Span.Around(points.Select(point => view.Day(point.At)))!.Value;
        Span x = Horizon.Of(focus?.LimitReached, seen, view).Padded(0.02, 1);
        double? baseline = focus?.BaselineMilliohms?.Value;
        List<double> values = [.. points.Where(point => point.Cell == focus?.Cell || !Fits(resistance, point.Cell)).Select(point => point.Milliohms.Value)];
        values.AddRange(points.Where(point => point.Cell == focus?.Cell && !Uncertain(point)).SelectMany(point => new[] { point.Milliohms.Low, point.Milliohms.High }));
        values.AddRange(resistance.Cells.Select(cell => cell.TrendMilliohms).OfType<Trend.Fitted>().SelectMany(trend => TrendLine.Of(trend, seen, view.Offset).Ys));
        if (baseline is { } start)
        {
            values.AddRange([start * resistance.WatchRatio, start * resistance.ActRatio]);
        }

        Span around = Span.Around(values)!.Value.Padded(0.1, 0.5);
        var y = new Span(Math.Max(0, around.Low), around.High);
        var sheet = new Sheet(frame, 300, x, y, Sheet.LabelRoom);
        sheet.MarksX(Scale.Dates(x, frame.Size.IsNarrow ? 4 : 7, view.Dates));
        sheet.MarksY(Scale.Figures(y, 6, "m\u03A9"));

        if (focus?.TrendMilliohms is Trend.Fitted fitted)
        {
            TrendLine line = TrendLine.Of(fitted, x, view.Offset);
            sheet.Band(line.Xs, line.Low, line.High, CellStyle.Of(focus.Cell).Tone, 0.18);
            sheet.Line(line.Xs, line.Ys, new Stroke(CellStyle.Of(focus.Cell).Tone, 2.2));
        }

        if (baseline is { } now)
        {
            sheet.Limit(now * resistance.WatchRatio, pastIsAbove: true, strong: false, $"watch, {Wording.Figure(resistance.WatchRatio, 1)} \u00D7 baseline");
            sheet.Limit(now * resistance.ActRatio, pastIsAbove: true, strong: true, $"act, {Wording.Figure(resistance.ActRatio, 1)} \u00D7 baseline");
            Horizon.Draw(sheet, focus!.LimitReached, now * resistance.ActRatio, view);
        }

        var labels = new List<EndLabel>();
        foreach (IGrouping<int, ResistancePoint> cell in points.GroupBy(point => point.Cell).OrderBy(group => group.Key == focus?.Cell).ThenBy(group => group.Key))
        {
            bool inFocus = cell.Key == focus?.Cell;
            CellStyle style = CellStyle.Of(cell.Key);
            double[] xs = [.. cell.Select(point => view.Day(point.At))];
            double[] ys = [.. cell.Select(point => point.Milliohms.Value)];
            double end = ys[^1];
            if (resistance.Cells.FirstOrDefault(known => known.Cell == cell.Key)?.TrendMilliohms is Trend.Fitted own)
            {
                TrendLine line = TrendLine.Of(own, new Span(Math.Min(xs[0], xs[^1] - 1), xs[^1]), view.Offset);
                end = line.Ys[^1];
                if (!inFocus)
                {
                    sheet.Line(line.Xs, line.Ys, style.Line(inFocus: false));
                }
            }
            else if (!inFocus)
            {
                sheet.Line(xs, ys, style.Line(inFocus: false));
                sheet.Points(xs, ys, style.Mark, style.Tone, filled: false, 2.2f);
            }

            if (inFocus)
            {
                foreach (bool uncertain in new[] { true, false })
                {
                    // Readings that say little must not shout: their bars are the longest.
                    List<ResistancePoint> some = [.. cell.Where(point => Uncertain(point) == uncertain)];
                    double[] at = [.. some.Select(point => view.Day(point.At))];
                    sheet.Bars(at, [.. some.Select(point => point.Milliohms.Low)], [.. some.Select(point => point.Milliohms.High)], uncertain ? new Stroke(Tones.Muted, 0.5) : new Stroke(style.Tone, 0.9));
                    sheet.Points(at, [.. some.Select(point => point.Milliohms.Value)], style.Mark, style.Tone, !uncertain, uncertain ? 2.4f : 3.6f);
                }
            }

            labels.Add(new EndLabel(xs[^1], end, DriftChart.CellLabel(cell.Key, inFocus), inFocus));
        }

        sheet.EndLabels(labels);
        return sheet;
    }

    private static bool Fits(ResistanceAssessment resistance, int cell) =>
        resistance.Cells.FirstOrDefault(known => known.Cell == cell)?.TrendMilliohms is Trend.Fitted;

    private static bool Uncertain(ResistancePoint point) => point.Milliohms.High - point.Milliohms.Low > point.Milliohms.Value / 2;

    private static DataTable Table(PackView view) => new(
        ["Date", "Cell", "Resistance (m\u03A9)", "95 % from", "to", "Steps or readings", "Source"],
        [.. view.Assessment.Resistance.Series.Select(point => (IReadOnlyList<string>)
        [
            view.Moment(point.At),
            point.Cell.ToString(CultureInfo.InvariantCulture),
            Wording.Figure(point.Milliohms.Value, 2),
            Wording.Figure(point.Milliohms.Low, 2),
            Wording.Figure(point.Milliohms.High, 2),
            point.Milliohms.Count.ToString(CultureInfo.InvariantCulture),
            point.FromInstrument ? "instrument" : $"step, {Wording.Plain(point.LagSeconds)} s",
        ])]);
}
