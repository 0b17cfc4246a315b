using System.Globalization;
using PackCare.Report.Look;
using ScottPlot;
using SkiaSharp;

namespace PackCare.Report.Charts;

/// <summary>Draws on a plot in pixels: for a PNG on its canvas, for an SVG as elements that go in its place.</summary>
internal sealed class Pen(RenderPack rp, IAxes axes, Ink ink)
{
    public PixelRect Data => rp.DataRect;

    public float X(double value) => axes.GetPixelX(value);

    public float Y(double value) => axes.GetPixelY(value);

    /// <summary>Strokes a path.</summary>
    public void Draw(Trace trace, Stroke stroke)
    {
        if (trace.IsEmpty)
        {
            return;
        }

        if (ink.Coded)
        {
            ink.Layers.Append(CultureInfo.InvariantCulture, $"<path fill=\"none\" stroke=\"#{stroke.Tone.Light}\" class=\"s-{stroke.Tone.Name}\" stroke-width=\"{stroke.Width}\"");
            if (stroke.Dash.Count > 0)
            {
                ink.Layers.Append(" stroke-dasharray=\"").AppendJoin(' ', stroke.Dash.Select(length => length.ToString(CultureInfo.InvariantCulture))).Append('"');
            }

            WriteData(trace);
            return;
        }

        using var paint = new SKPaint
        {
            Style = SKPaintStyle.Stroke,
            Color = ink.Of(stroke.Tone).ToSKColor(),
            StrokeWidth = (float)stroke.Width,
            StrokeJoin = SKStrokeJoin.Round,
            IsAntialias = true,
        };
        using SKPathEffect? dashes = stroke.Dash.Count > 0 ? SKPathEffect.CreateDash([.. stroke.Dash], 0) : null;
        paint.PathEffect = dashes;
        using SKPath path = trace.ToPath();
        rp.Canvas.DrawPath(path, paint);
    }

    /// <summary>Fills a path.</summary>
    public void Fill(Trace trace, Tone tone, double opacity = 1)
    {
        if (trace.IsEmpty)
        {
            return;
        }

        if (ink.Coded)
        {
            ink.Layers.Append(CultureInfo.InvariantCulture, $"<path fill=\"#{tone.Light}\" class=\"f-{tone.Name}\"");
            if (opacity < 1)
            {
                ink.Layers.Append(CultureInfo.InvariantCulture, $" fill-opacity=\"{opacity}\"");
            }

            WriteData(trace);
            return;
        }

        using var paint = new SKPaint
        {
            Style = SKPaintStyle.Fill,
            Color = ink.Of(tone).WithAlpha(opacity).ToSKColor(),
            IsAntialias = true,
        };
        using SKPath path = trace.ToPath();
        rp.Canvas.DrawPath(path, paint);
    }

    /// <summary>Draws one line from point to point.</summary>
    public void Line(float x1, float y1, float x2, float y2, Stroke stroke)
    {
        var trace = new Trace();
        trace.MoveTo(x1, y1);
        trace.LineTo(x2, y2);
        Draw(trace, stroke);
    }

    /// <summary>Writes text on a ground of its own.</summary>
    public void Words(string text, float x, float y, float size, Tone tone, SKTextAlign align)
    {
        float width = FontShelf.Width(text, size);
        float left = align == SKTextAlign.Right ? x - width : x;
        var ground = new Trace();
        ground.Rect(left - 2, y - (size * 0.55f), left + width + 2, y + (size * 0.55f));
        Fill(ground, Tones.Card, 0.8);
        Text(text, left, y, size, tone);
    }

    /// <summary>Writes text from x on; y is its middle.</summary>
    public void Text(string text, float x, float y, float size, Tone tone)
    {
        // 0.36 of the size is half the height of a capital of this font.
        float line = y + (size * 0.36f);
        if (ink.Coded)
        {
            SvgFinish.WriteText(ink.Layers, text, x, line, size, tone);
            return;
        }

        using var font = new SKFont(FontShelf.Typeface, size) { Subpixel = true };
        using var paint = new SKPaint { Color = ink.Of(tone).ToSKColor(), IsAntialias = true };
        rp.Canvas.DrawText(text, x, line, SKTextAlign.Left, font, paint);
    }

    /// <summary>Leaves a mark on the canvas where the elements written through this ink belong, before the first of them.</summary>
    public void Begin()
    {
        if (!ink.Coded)
        {
            return;
        }

        ink.Layers.Clear();
        using var paint = new SKPaint { Style = SKPaintStyle.Fill, Color = Ink.Place.ToSKColor() };

        // Inside the data area: what lies outside is clipped away and leaves no mark.
        rp.Canvas.DrawRect(new SKRect(Data.Left, Data.Top, Data.Right, Data.Bottom), paint);
    }

    private void WriteData(Trace trace)
    {
        ink.Layers.Append(" d=\"");
        trace.Write(ink.Layers);
        ink.Layers.Append("\"/>");
    }
}
