using PackCare.Report.Look;
using ScottPlot;
using SkiaSharp;

namespace PackCare.Report.Charts;

/// <summary>Draws on a plot in pixels.</summary>
internal sealed class Pen(RenderPack rp, IAxes axes, Ink ink)
{
    public PixelRect Data => rp.DataRect;

    public float X(double value) => axes.GetPixelX(value);

    public float Y(double value) => axes.GetPixelY(value);

    /// <summary>Strokes a path.</summary>
    public void Draw(SKPath path, Stroke stroke)
    {
        using var paint = new SKPaint
        {
            Style = SKPaintStyle.Stroke,
            Color = ink.Of(stroke.Tone, stroke.Dash).ToSKColor(),
            StrokeWidth = (float)stroke.Width,
            StrokeJoin = SKStrokeJoin.Round,
            IsAntialias = true,
        };
        using SKPathEffect? dashes = stroke.Dash.Count > 0 && !ink.Coded ? SKPathEffect.CreateDash([.. stroke.Dash], 0) : null;
        paint.PathEffect = dashes;
        rp.Canvas.DrawPath(path, paint);
    }

    /// <summary>Fills a path.</summary>
    public void Fill(SKPath path, Tone tone, double opacity = 1)
    {
        using var paint = new SKPaint
        {
            Style = SKPaintStyle.Fill,
            Color = ink.Of(tone).WithAlpha(opacity).ToSKColor(),
            IsAntialias = true,
        };
        rp.Canvas.DrawPath(path, paint);
    }

    /// <summary>Draws one line from point to point.</summary>
    public void Line(float x1, float y1, float x2, float y2, Stroke stroke)
    {
        using var path = new SKPath();
        path.MoveTo(x1, y1);
        path.LineTo(x2, y2);
        Draw(path, stroke);
    }

    /// <summary>Writes text on a ground of its own.</summary>
    public void Words(string text, float x, float y, float size, Tone tone, SKTextAlign align)
    {
        using var font = new SKFont(FontShelf.Typeface, size) { Subpixel = true };
        float width = font.MeasureText(text);
        float left = align == SKTextAlign.Right ? x - width : x;
        using var ground = new SKPath();
        ground.AddRect(new SKRect(left - 2, y - (size * 0.55f), left + width + 2, y + (size * 0.55f)));
        Fill(ground, Tones.Card, 0.8);
        Text(text, x, y, size, tone, align);
    }

    /// <summary>Writes text; <paramref name="align"/> says which end of it lies at x, and y is its middle.</summary>
    public void Text(string text, float x, float y, float size, Tone tone, SKTextAlign align = SKTextAlign.Left)
    {
        using var font = new SKFont(FontShelf.Typeface, size) { Subpixel = true };
        using var paint = new SKPaint { Color = ink.Of(tone).ToSKColor(), IsAntialias = true };
        float width = font.MeasureText(text);
        float left = align switch
        {
            SKTextAlign.Center => x - (width / 2),
            SKTextAlign.Right => x - width,
            _ => x,
        };

        // 0.36 of the size is half the height of a capital of this font.
        rp.Canvas.DrawText(text, left, y + (size * 0.36f), SKTextAlign.Left, font, paint);
    }
}
