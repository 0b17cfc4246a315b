using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using PackCare.Report.Html;
using PackCare.Report.Look;

namespace PackCare.Report.Charts;

/// <summary>
/// Turns a drawing as the graphics library writes it into one that stands inside a page: colours become classes that
/// follow the page, text becomes one piece placed once (the library places every glyph and leaves trailing commas,
/// which one major browser answers by shifting the label), clip paths and backgrounds go, figures are rounded.
/// The same input gives the same text; nothing in it has an id.
/// </summary>
internal static partial class SvgFinish
{
    private const string FontFamily = "Liberation Sans, Arimo, Arial, Helvetica, sans-serif";

    /// <summary>Finishes a drawing.</summary>
    /// <param name="raw">As the library writes it.</param>
    /// <param name="ink">The colours it was drawn with.</param>
    /// <param name="name">What it is, for those who do not see it.</param>
    /// <param name="description">What it shows, for those who do not see it.</param>
    /// <param name="cssClass">Class of the root.</param>
    public static Markup Finish(string raw, Ink ink, string name, string description, string cssClass)
    {
        XElement root = XDocument.Parse(raw[raw.IndexOf("<svg", StringComparison.Ordinal)..]).Root!;
        string width = root.Attribute("width")!.Value;
        string height = root.Attribute("height")!.Value;
        var svg = new StringBuilder();
        svg.Append(CultureInfo.InvariantCulture, $"<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"{cssClass}\" viewBox=\"0 0 {width} {height}\" width=\"{width}\" height=\"{height}\" role=\"img\" aria-label=\"{HtmlText.Escape(name)}\" font-family=\"{FontFamily}\">");
        if (description.Length > 0)
        {
            svg.Append("<desc>").Append(HtmlText.Escape(description)).Append("</desc>");
        }

        int before = svg.Length;
        Write(root.Elements(), svg, ink);
        return svg.Length - before < ink.Layers.Length
            ? throw new InvalidOperationException("A drawing lost the place where its data belongs.")
            : new Markup(svg.Append("</svg>").ToString());
    }

    private static void Write(IEnumerable<XElement> elements, StringBuilder svg, Ink ink)
    {
        foreach (XElement element in elements)
        {
            switch (element.Name.LocalName)
            {
                case "g":
                    Write(element.Elements(), svg, ink);
                    break;
                case "text":
                    WriteText(element, svg);
                    break;
                case "path" or "rect" or "circle" or "ellipse" or "line" or "polygon" or "polyline":
                    WriteShape(element, svg, ink);
                    break;
                case "clipPath" or "defs":
                    break;
                default:
                    throw new InvalidOperationException($"A drawing holds an element that is not expected: {element.Name.LocalName}.");
            }
        }
    }

    private static void WriteShape(XElement element, StringBuilder svg, Ink ink)
    {
        string fill = element.Attribute("fill")?.Value ?? "black";
        if (fill == Ink.PlaceText)
        {
            svg.Append(ink.Layers);
            return;
        }

        string stroke = element.Attribute("stroke")?.Value ?? "none";
        bool unseen = (fill == "none" && stroke == "none") ||
            element.Attribute(fill == "none" ? "stroke-opacity" : "fill-opacity")?.Value == "0" ||
            (element.Attribute("d") is { } d && NoLength().IsMatch(d.Value));
        if (unseen)
        {
            return;
        }

        svg.Append('<').Append(element.Name.LocalName);
        foreach (XAttribute attribute in element.Attributes())
        {
            switch (attribute.Name.LocalName)
            {
                case "fill" or "stroke" when attribute.Value != "none":
                    WriteColour(attribute, svg);
                    break;
                case "stroke-miterlimit" or "stroke-linejoin" or "vector-effect":
                    break;
                case "fill-opacity" or "stroke-opacity":
                    svg.Append(CultureInfo.InvariantCulture, $" {attribute.Name.LocalName}=\"{Number(attribute.Value):0.##}\"");
                    break;
                default:
                    svg.Append(CultureInfo.InvariantCulture, $" {attribute.Name.LocalName}=\"{Round(attribute.Value)}\"");
                    break;
            }
        }

        svg.Append("/>");
    }

    private static void WriteColour(XAttribute attribute, StringBuilder svg)
    {
        Tone tone = Ink.Decode(attribute.Value) ?? throw new InvalidOperationException($"A drawing holds a colour that was not handed out: {attribute.Value}.");
        string kind = attribute.Name.LocalName;
        svg.Append(CultureInfo.InvariantCulture, $" {kind}=\"#{tone.Light}\" class=\"{kind[0]}-{tone.Name}\"");
    }

    private static void WriteText(XElement element, StringBuilder svg)
    {
        string text = element.Value.Trim('\n', '\r', '\t');
        float size = Number(element.Attribute("font-size")!.Value);
        (float dx, float dy) = Translation(element.Attribute("transform")?.Value);
        float x = dx + Number(First(element.Attribute("x")?.Value));
        float y = dy + Number(First(element.Attribute("y")?.Value));
        Tone tone = Ink.Decode(element.Attribute("fill")?.Value ?? "black") ?? throw new InvalidOperationException($"A text has a colour that was not handed out: {element}.");
        WriteText(svg, text, x, y, size, tone);
    }

    /// <summary>Writes a text that takes the same room in whichever font it is shown.</summary>
    public static void WriteText(StringBuilder svg, string text, float x, float y, float size, Tone tone) =>
        svg.Append(CultureInfo.InvariantCulture, $"<text x=\"{x:0.#}\" y=\"{y:0.#}\" font-size=\"{size:0.##}\" fill=\"#{tone.Light}\" class=\"f-{tone.Name}\" textLength=\"{FontShelf.Width(text, size):0.#}\" lengthAdjust=\"spacingAndGlyphs\">{HtmlText.Escape(text)}</text>");

    private static string First(string? list) => list?.Split(',', 2)[0].Trim() ?? "0";

    private static (float X, float Y) Translation(string? transform)
    {
        if (transform is null)
        {
            return (0, 0);
        }

        Match match = TranslatePattern().Match(transform);
        return match.Success
            ? (Number(match.Groups[1].Value), match.Groups[2].Success ? Number(match.Groups[2].Value) : 0)
            : throw new InvalidOperationException($"A text is placed in a way that is not expected: {transform}.");
    }

    private static float Number(string text) => float.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture);

    private static string Round(string value) => LongFigure().Replace(value, match => double.Parse(match.Value, CultureInfo.InvariantCulture).ToString("0.#", CultureInfo.InvariantCulture));

    // Nothing, or a line from a point to itself: marks of an axis that has none.
    [GeneratedRegex(@"^(M(?<at>[-\d. ]+)L\k<at>)?$")]
    private static partial Regex NoLength();

    [GeneratedRegex(@"^translate\((-?[\d.e-]+)[ ,]*(-?[\d.e-]+)?\)$")]
    private static partial Regex TranslatePattern();

    // A tenth of a pixel is enough for places.
    [GeneratedRegex(@"-?\d+\.\d\d+(e-?\d+)?")]
    private static partial Regex LongFigure();
}
