using System.Globalization;
using PackCare.Report.Html;
using PackCare.Report.Look;
using PackCare.Report.Pages;

namespace PackCare.Report.Labels;

/// <summary>The page of labels: how to print it, which only the screen shows, and the sheets.</summary>
internal static class LabelPage
{
    /// <summary>By this a file is known for one of ours.</summary>
    public const string Signature = "<meta name=\"generator\" content=\"PackCare labels\">";

    /// <summary>Builds it.</summary>
    public static HtmlBuilder Build(LabelInput input)
    {
        string style = LabelStyle.Of(input);
        string packs = Wording.Count(input.Packs.Count, "pack", "packs");
        var html = new HtmlBuilder();
        html.Add($"<!DOCTYPE html>");
        html.Add($"<html lang=\"en\">");
        html.Add($"<head>");
        html.Add($"<meta charset=\"utf-8\">");
        html.Add(new Markup(Signature));
        html.Add($"<meta http-equiv=\"Content-Security-Policy\" content=\"{ContentPolicy.Allowing(style)}\">");
        html.Add($"<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">");
        html.Add($"<meta name=\"referrer\" content=\"no-referrer\">");
        html.Add($"<title>Labels of {packs}</title>");
        html.Add($"<style>{new Markup(style)}</style>");
        html.Add($"</head>");
        html.Add($"<body>");
        html.Add($"<header>");
        html.Add($"<h1>Labels of {packs}</h1>");
        html.Add($"<p>{Wording.Count(input.Sheets, "sheet", "sheets")} of A4, {Describe(input.Format)}. To print them where they belong:</p>");
        html.Add($"<ul><li>paper A4, upright;</li><li>scale 100\u00A0%, nothing fitted to the page;</li><li>no margins, no headers or footers;</li><li>first on plain paper, and held against a sheet of stickers.</li></ul>");
        html.Add($"</header>");
        html.Add($"<main>");
        AddSheets(html, input);
        html.Add($"</main>");
        html.Add($"<footer><p>Each code holds the text of the label and nothing else.</p></footer>");
        html.Add($"</body>");
        html.Add($"</html>");
        return html;
    }

    private static void AddSheets(HtmlBuilder html, LabelInput input)
    {
        int skip = input.Skip;
        IEnumerable<LabelPack> rest = input.Packs;
        for (int sheet = 1; sheet <= input.Sheets; sheet++)
        {
            html.Add($"<ul class=\"sheet\" aria-label=\"Sheet {sheet} of {input.Sheets}\">");
            for (int place = 0; place < skip; place++)
            {
                html.Add($"<li class=\"used\" aria-hidden=\"true\"></li>");
            }

            foreach (LabelPack pack in rest.Take(input.Format.Places - skip))
            {
                html.Add($"<li>{Sticker.Draw(pack, input)}</li>");
            }

            html.Add($"</ul>");
            rest = rest.Skip(input.Format.Places - skip);
            skip = 0;
        }
    }

    private static string Describe(SheetFormat format) =>
        string.Create(CultureInfo.InvariantCulture, $"{format.Columns} by {format.Rows} stickers of {format.WidthMillimetres:0.##}\u00A0\u00D7\u00A0{format.HeightMillimetres:0.##}\u00A0mm");
}
