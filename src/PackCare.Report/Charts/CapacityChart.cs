using System.Globalization;
using PackCare.Analysis.Assessments;
using PackCare.Core.Estimates;
using PackCare.Report.Look;
using PackCare.Report.Pages;

namespace PackCare.Report.Charts;

/// <summary>Capacity over time, with its fit and limits.</summary>
internal static class CapacityChart
{
    public static Chart Make(PackView view)
    {
        CapacityAssessment capacity = view.Assessment.Capacity;
        return new Chart(
            "capacity",
            "How much does it still hold?",
            Answer(view),
            capacity.Series.Count == 0 ? null : HowToRead(capacity),
            capacity.Series.Count == 0 ? [] : [new Panel(null, frame => Draw(view, frame))],
            Table(view));
    }

    private static string Answer(PackView view)
    {
        CapacityAssessment capacity = view.Assessment.Capacity;
        if (capacity.Series.Count == 0)
        {
            return "Nothing to draw: no session shows a capacity. That takes logs with current, best a whole charge after a whole discharge.";
        }

        var sentences = new List<string>();
        string against = capacity.ReferenceIsRated ? "of what is printed on it" : "of what was first measured";
        if (capacity.HealthPercent is { } health)
        {
            string past = health.Value < capacity.ActPercent ? $", below the act limit of {Wording.Figure(capacity.ActPercent, 0)}\u00A0%"
                : health.Value < capacity.WatchPercent ? $", below the watch limit of {Wording.Figure(capacity.WatchPercent, 0)}\u00A0%"
                : $"; the watch limit is {Wording.Figure(capacity.WatchPercent, 0)}\u00A0%";
            sentences.Add($"It holds {Wording.Interval(health, 0, "%")} {against}{past}.");
        }

        if (capacity.LatestAh is { } latest)
        {
            sentences.Add($"That is {Wording.Interval(latest, 2, "Ah")}.");
        }

        switch (capacity.TrendAh)
        {
            case Trend.TooLittleData little:
                sentences.Add(Wording.TooLittle(little));
                break;
            case Trend.Fitted fitted:
                Estimate slope = fitted.SlopePerDay;
                string change = $"{Wording.Signed(slope.Value * 365.25)}\u00A0Ah a year ({Wording.Signed(slope.Low * 365.25)} to {Wording.Signed(slope.High * 365.25)}; n\u00A0=\u00A0{slope.Count.ToString(CultureInfo.InvariantCulture)})";
                sentences.Add(slope.High < 0 ? $"It changes by {change}." : slope.Low > 0 ? $"It grows by {change}, which no pack does: more likely the logs differ." : $"Its change, {change}, cannot be told from none.");
                sentences.Add(Wording.Sentence(capacity.LimitReached, $"{Wording.Figure(capacity.ActPercent, 0)}\u00A0%", view.Now, view.Dates));
                break;
        }

        return string.Join(' ', sentences);
    }

    private static string HowToRead(CapacityAssessment capacity)
    {
        string partial = capacity.Series.Any(point => !point.Complete) ? " Hollow: concluded from a part of a charge, less certain." : "";
        return $"Filled: counted over a whole charge or discharge.{partial} Bars and band: 95\u00A0% confidence. The toothed lines are the limits.";
    }

    private static Sheet Draw(PackView view, Frame frame)
    {
        CapacityAssessment capacity = view.Assessment.Capacity;
        Span seen = Span.Around(capacity.Series.Select(point => view.Day(point.At)))!.Value;
        Span x = Horizon.Of(capacity.LimitReached, seen, view).Padded(0.02, 1);
        double? watch = capacity.ReferenceAh * capacity.WatchPercent / 100;
        double? act = capacity.ReferenceAh * capacity.ActPercent / 100;
        var values = capacity.Series.SelectMany(point => new[] { point.AmpereHours.Value, Math.Max(point.AmpereHours.Low, point.AmpereHours.Value * 0.85), Math.Min(point.AmpereHours.High, point.AmpereHours.Value * 1.15) }).ToList();
        values.AddRange(new[] { watch, act, capacity.ReferenceAh }.OfType<double>());
        Span around = Span.Around(values)!.Value.Padded(0.1, 0.02);
        var y = new Span(Math.Max(0, around.Low), around.High);
        var sheet = new Sheet(frame, 300, x, y, Sheet.LabelRoom);
        sheet.MarksX(Scale.Dates(x, frame.Size.IsNarrow ? 4 : 7, view.Dates));
        sheet.MarksY(Scale.Figures(y, 6, "Ah"));

        if (capacity.TrendAh is Trend.Fitted fitted)
        {
            TrendLine line = TrendLine.Of(fitted, x, view.Offset);
            sheet.Band(line.Xs, line.Low, line.High, Tones.Blue, 0.18);
            sheet.Line(line.Xs, line.Ys, new Stroke(Tones.Blue, 2.2));
        }

        if (capacity.ReferenceAh is { } reference)
        {
            sheet.Draw(pen => pen.Line(pen.Data.Left, pen.Y(reference), pen.X(x.High), pen.Y(reference), new Stroke(Tones.Muted, 1, [5, 4])));
            sheet.EndLabels([new EndLabel(x.High, reference, capacity.ReferenceIsRated ? "as printed" : "as at first", Strong: false)]);
            sheet.Limit(watch!.Value, pastIsAbove: false, strong: false, $"watch, {Wording.Figure(capacity.WatchPercent, 0)} %");
            sheet.Limit(act!.Value, pastIsAbove: false, strong: true, $"act, {Wording.Figure(capacity.ActPercent, 0)} %");
            Horizon.Draw(sheet, capacity.LimitReached, act.Value, view);
        }

        foreach (bool complete in new[] { false, true })
        {
            List<CapacityPoint> points = [.. capacity.Series.Where(point => point.Complete == complete)];
            double[] xs = [.. points.Select(point => view.Day(point.At))];
            sheet.Bars(xs, [.. points.Select(point => point.AmpereHours.Low)], [.. points.Select(point => point.AmpereHours.High)], new Stroke(complete ? Tones.Blue : Tones.Muted, 1));
            sheet.Points(xs, [.. points.Select(point => point.AmpereHours.Value)], complete ? Mark.Circle : Mark.Diamond, complete ? Tones.Blue : Tones.Muted, complete, 3.4f);
        }

        return sheet;
    }

    private static DataTable Table(PackView view) => new(
        ["Date", "Capacity (Ah)", "95 % from", "to", "Whole charge or discharge"],
        [.. view.Assessment.Capacity.Series.Select(point => (IReadOnlyList<string>)
        [
            view.Moment(point.At),
            Wording.Figure(point.AmpereHours.Value, 3),
            Wording.Figure(point.AmpereHours.Low, 3),
            Wording.Figure(point.AmpereHours.High, 3),
            point.Complete ? "yes" : "no",
        ])]);
}
