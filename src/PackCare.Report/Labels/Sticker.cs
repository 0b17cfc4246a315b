using System.Globalization;
using System.Text;
using PackCare.Core.Packs;
using PackCare.Report.Html;
using PackCare.Report.Pages;

namespace PackCare.Report.Labels;

/// <summary>Draws one sticker: the code at the left, the label in letters as large as go beside it, and three lines of what does not change.</summary>
internal static class Sticker
{
    // Lengths are tenths of a millimetre: browsers keep letters of less than a unit from being set well.
    private const double Unit = 10;
    private const double CodeShareOfWidth = 0.34;

    // Telephones read modules of a third of a millimetre from paper; a printer's blot takes a part of that. Ours, no source.
    private const double LeastModule = 0.4 * Unit;

    // 4.5 points, which a good printer still sets cleanly.
    private const double SmallestLetters = 1.6 * Unit;

    /// <summary>Draws it.</summary>
    public static Markup Draw(LabelPack pack, LabelInput input)
    {
        double width = input.Format.WidthMillimetres * Unit;
        double height = input.Format.HeightMillimetres * Unit;
        double rim = Math.Clamp(height * 0.07, 14, 28);
        string label = pack.Pack.Label;

        // The quiet zone may lie in the rim, which is as white as it; so codes of every size have one middle, and the text
        // beside them one edge.
        double room = Math.Min(height - (2 * rim), width * CodeShareOfWidth);
        QrSymbol code = QrSymbol.Of(label, room, LeastModule);
        double cell = room + (2 * rim);
        double module = cell / (code.Size + (2 * QrSymbol.QuietModules));
        double side = module * code.Size;
        double left = (cell - side) / 2;
        double textLeft = cell;
        double textWidth = width - rim - textLeft;
        IReadOnlyList<string> details = Details(pack, DateText.In(input.Dates));

        // As large as goes beside the code, up to the size of print in a book.
        double small = Math.Min(Math.Clamp(height * 0.095, SmallestLetters, 30), textWidth / details.Max(detail => LabelLines.Width(detail, 1)));
        double smallStep = small * 1.3;
        double gap = small * 0.35;
        LabelLines lines = LabelLines.Fit(label, textWidth, height - (2 * rim) - (details.Count * smallStep) - gap, Math.Min(height * 0.2, 72), SmallestLetters);
        double block = lines.Height + gap + (details.Count * smallStep);
        double y = (height - block) / 2;

        var svg = new StringBuilder();
        svg.Append(CultureInfo.InvariantCulture, $"<svg class=\"sticker\" viewBox=\"0 0 {width:0.##} {height:0.##}\" role=\"img\" aria-label=\"{HtmlText.Escape(Spoken(label, details))}\">");
        svg.Append(CultureInfo.InvariantCulture, $"<path class=\"code\" d=\"{code.ToPath(left, (height - side) / 2, module)}\"/>");
        foreach (string line in lines.Lines)
        {
            Write(svg, line, textLeft, y + (lines.Size * 0.86), lines.Size, textWidth);
            y += lines.Size * LabelLines.Leading;
        }

        y += gap;
        foreach (string detail in details)
        {
            Write(svg, detail, textLeft, y + (smallStep * 0.72), small, textWidth);
            y += smallStep;
        }

        return new Markup(svg.Append("</svg>").ToString());
    }

    /// <summary>What stands on a sticker under the label.</summary>
    internal static IReadOnlyList<string> Details(LabelPack pack, DateText dates)
    {
        PackDetails details = pack.Pack.Details;
        string cells = details.Parallel > 1 ? $"{Number(details.Cells)}S{Number(details.Parallel)}P" : $"{Number(details.Cells)}S1P";
        string use = (pack.FirstUse, details.Bought) switch
        {
            ({ } first, _) => $"First use {dates.Day(first)}",
            (null, { } bought) => $"Bought {dates.Day(bought)}",
            _ => "First use unknown",
        };
        return
        [
            $"{cells} {Wording.Word(details.Chemistry)}",
            details.RatedCapacity is { } rated ? $"{Number(rated.MilliampereHours)} mAh" : "Capacity unknown",
            use,
        ];
    }

    private static string Spoken(string label, IReadOnlyList<string> details) => $"{label}: {string.Join(", ", details)}";

    // A stated width keeps the line inside its sticker in whichever font it is shown, where that width can be known.
    private static void Write(StringBuilder svg, string line, double x, double y, double size, double most)
    {
        double natural = LabelLines.Width(line, size);
        double fitted = natural > most ? size * most / natural : size;
        svg.Append(CultureInfo.InvariantCulture, $"<text x=\"{x:0.#}\" y=\"{y:0.#}\" font-size=\"{fitted:0.##}\"");
        if (LabelLines.IsMeasured(line))
        {
            svg.Append(CultureInfo.InvariantCulture, $" textLength=\"{Math.Min(natural, most):0.#}\" lengthAdjust=\"spacingAndGlyphs\"");
        }

        svg.Append('>').Append(HtmlText.Escape(line)).Append("</text>");
    }

    private static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
