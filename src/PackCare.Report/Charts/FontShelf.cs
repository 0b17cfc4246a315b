using ScottPlot;
using SkiaSharp;

namespace PackCare.Report.Charts;

/// <summary>The one font of all charts, carried along so that a machine without fonts draws the same.</summary>
internal static class FontShelf
{
    /// <summary>A name that no installed font has, so that the embedded one is always taken.</summary>
    public const string Name = "PackCare Chart Sans";

    private static readonly Lazy<SKTypeface> Embedded = new(Load);
    private static readonly Lock Gate = new();
    private static bool _registered;

    public static SKTypeface Typeface => Embedded.Value;

    /// <summary>Makes the font known to the plotting library; to be called before the first plot.</summary>
    public static void Register()
    {
        lock (Gate)
        {
            if (_registered)
            {
                return;
            }

            Fonts.FontResolvers.Insert(0, new Resolver());
            Fonts.Default = Name;
            _registered = true;
        }
    }

    /// <summary>Width of a text in pixels.</summary>
    public static float Width(string text, float size)
    {
        using var font = new SKFont(Typeface, size) { Subpixel = true };
        return font.MeasureText(text);
    }

    private static SKTypeface Load()
    {
        const string resource = "LiberationSans-Regular.ttf";
        using Stream stream = typeof(FontShelf).Assembly.GetManifestResourceStream(resource)
            ?? throw new InvalidOperationException($"The assembly lacks its resource {resource}.");
        return SKTypeface.FromStream(stream) ?? throw new InvalidOperationException($"The resource {resource} is no font.");
    }

    private sealed class Resolver : IFontResolver
    {
        public SKTypeface? CreateTypeface(string fontName, FontWeight weight, FontSlant slant, FontSpacing spacing) =>
            fontName == Name ? Typeface : null;

        public SKTypeface? CreateTypeface(string fontName, bool bold, bool italic) =>
            fontName == Name ? Typeface : null;
    }
}
