using PackCare.Analysis.Assessments;
using PackCare.Report.Html;
using PackCare.Report.Look;
using PackCare.Report.Pages;

namespace PackCare.Report.Charts;

/// <summary>The rest spread of a pack over time in a few words' room, with the watch limit as a line.</summary>
internal static class Sparkline
{
    private static readonly ChartSize Small = new("spark", 132, 10, 2);

    /// <summary>Draws it.</summary>
    /// <returns>The drawing; a sentence where there are fewer than two comparable readings.</returns>
    public static Markup Make(PackView view)
    {
        IReadOnlyList<DeviationPoint> points = view.Comparable;
        if (points.Count < 2)
        {
            return HtmlBuilder.Piece($"<span class=\"none\">too little to draw: {Wording.Count(points.Count, "reading", "readings")}</span>");
        }

        double watch = SpreadLimit.Watch(view.Assessment);
        double[] xs = [.. points.Select(point => view.Day(point.At))];
        double[] ys = [.. points.Select(point => point.Millivolts.Count == 0 ? double.NaN : point.Millivolts.Max() - point.Millivolts.Min())];
        if (!ys.Any(double.IsFinite))
        {
            return new Markup("<span class=\"none\">too little to draw</span>");
        }

        var ink = new Ink(coded: true);
        Span x = Span.Around(xs)!.Value.Padded(0.02, 0.5);
        var y = new Span(0, Math.Max(ys.Where(double.IsFinite).Max(), watch) * 1.15);
        using var sheet = new Sheet(new Frame(Small, ink, null), 38, x, y);
        sheet.Bare();
        sheet.Band([sheet.Full.Low, sheet.Full.High], [0, 0], [watch, watch], Tones.Within, 1);
        sheet.Draw(pen => pen.Line(pen.Data.Left, pen.Y(watch), pen.Data.Right, pen.Y(watch), new Stroke(Tones.Muted, 1, [3, 2])));
        sheet.Line(xs, ys, new Stroke(Tones.Ink, 1.5));
        int last = Array.FindLastIndex(ys, double.IsFinite);
        sheet.Draw(pen =>
        {
            var dot = new Trace();
            dot.Circle(pen.X(xs[last]), pen.Y(ys[last]), 2.8f);
            pen.Fill(dot, Tones.Ink);
        });
        string name = $"Rest spread from {Wording.Figure(ys.First(double.IsFinite), 0)} to {Wording.Figure(ys[last], 0)} mV between {view.Date(points[0].At)} and {view.Date(points[^1].At)}; the dashed line is the watch limit of {Wording.Figure(watch, 0)} mV";
        return SvgFinish.Finish(sheet.Finish().GetSvgXml(Small.Width, sheet.Height), ink, name, "", "spark");
    }
}
