using PackCare.Analysis.Assessments;
using PackCare.Report.Look;
using SkiaSharp;

namespace PackCare.Report.Charts;

/// <summary>Shows when a trend reaches its limit: how far the time axis runs, and the interval of dates on the limit line.</summary>
internal static class Horizon
{
    // Further ahead than what was seen, the past would be squeezed into a corner.
    private const double MostAhead = 1.0;

    /// <summary>The time axis: what was seen, and the expected date with its interval where that is not too far ahead.</summary>
    public static Span Of(LimitDate? limit, Span seen, PackView view)
    {
        if (limit is not LimitDate.Ahead ahead)
        {
            return seen;
        }

        double most = seen.High + (Math.Max(seen.Length, 60) * MostAhead);
        double wanted = view.Day(ahead.High ?? ahead.Expected);
        return view.Day(ahead.Low) > most ? seen : seen with { High = Math.Max(seen.High, Math.Min(wanted, most)) };
    }

    /// <summary>Draws the interval of dates as a bar on the limit, the expected date as a post, and now as a fine line.</summary>
    public static void Draw(Sheet sheet, LimitDate limit, double at, PackView view)
    {
        double now = view.Day(view.Assessment.Assessed);
        if (limit is LimitDate.Ahead && sheet.X.High - now > sheet.X.Length * 0.08)
        {
            sheet.Draw(pen => pen.Line(pen.X(now), pen.Data.Top, pen.X(now), pen.Data.Bottom, new Stroke(Tones.Muted, 0.8, [3, 3])));
            sheet.Words(pen => ("today", pen.X(now) + 4, pen.Data.Bottom - 9, SKTextAlign.Left), Tones.Muted);
        }

        if (limit is not LimitDate.Ahead ahead || !sheet.Y.Holds(at) || view.Day(ahead.Low) > sheet.X.High)
        {
            return;
        }

        sheet.Draw(pen =>
        {
            float y = pen.Y(at);
            float low = pen.X(sheet.X.Clamp(view.Day(ahead.Low)));
            float high = pen.X(ahead.High is { } end ? sheet.X.Clamp(view.Day(end)) : sheet.X.High);
            var bar = new Trace();
            bar.Rect(low, y - 3, high, y + 3);
            pen.Fill(bar, Tones.Ink);
            if (sheet.X.Holds(view.Day(ahead.Expected)))
            {
                float x = pen.X(view.Day(ahead.Expected));
                pen.Line(x, y - 7, x, y + 7, new Stroke(Tones.Ink, 2.4));
                pen.Line(x, y + 7, x, pen.Data.Bottom, new Stroke(Tones.Ink, 0.8, [3, 3]));
            }
        });
    }
}
