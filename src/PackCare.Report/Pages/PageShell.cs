using PackCare.Report.Html;
using PackCare.Report.Look;

namespace PackCare.Report.Pages;

/// <summary>What all pages share.</summary>
internal static class PageShell
{
    /// <summary>Words that stand in every footer, and by which a page is known for one of ours.</summary>
    public const string MadeBy = "Made by PackCare on ";

    /// <summary>A whole document.</summary>
    /// <param name="title">Its title.</param>
    /// <param name="notice">A line for the top, or null.</param>
    /// <param name="header">Content of the header.</param>
    /// <param name="main">Content of the main part.</param>
    /// <param name="footer">Content of the footer.</param>
    public static HtmlBuilder Document(string title, string? notice, Markup header, HtmlBuilder main, Markup footer)
    {
        var html = new HtmlBuilder();
        html.Add($"<!DOCTYPE html>");
        html.Add($"<html lang=\"en\">");
        html.Add($"<head>");
        html.Add($"<meta charset=\"utf-8\">");
        html.Add($"<meta http-equiv=\"Content-Security-Policy\" content=\"{StyleSheet.Policy}\">");
        html.Add($"<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">");
        html.Add($"<meta name=\"referrer\" content=\"no-referrer\">");
        html.Add($"<title>{title}</title>");
        html.Add($"<style>{new Markup(StyleSheet.Text)}</style>");
        html.Add($"</head>");
        html.Add($"<body>");
        html.Add($"<header>");
        if (notice is not null)
        {
            html.Add($"<p class=\"notice\">{HtmlText.Isolate(notice)}</p>");
        }

        html.Add(header);
        html.Add($"</header>");
        html.Add($"<main>");
        html.Add(main);
        html.Add(Cautions.Section);
        html.Add($"</main>");
        html.Add($"<footer>");
        html.Add(footer);
        html.Add($"</footer>");
        html.Add($"</body>");
        html.Add($"</html>");
        return html;
    }
}
