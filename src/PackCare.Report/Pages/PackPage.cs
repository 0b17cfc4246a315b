using System.Globalization;
using PackCare.Analysis.Assessments;
using PackCare.Core.Packs;
using PackCare.Report.Charts;
using PackCare.Report.Html;
using PackCare.Report.Look;

namespace PackCare.Report.Pages;

/// <summary>The page of one pack: its standing, why, and a chart a question.</summary>
internal static class PackPage
{
    /// <summary>Builds it.</summary>
    public static HtmlBuilder Build(ReportInput input, PackView view, IReadOnlyList<Chart> charts)
    {
        var main = new HtmlBuilder();
        AddFindings(main, view);
        AddFacts(main, view);
        main.Add($"<section>");
        main.Add($"<h2>The evidence</h2>");
        main.Add($"<div class=\"charts\">");
        foreach (Chart chart in charts)
        {
            AddChart(main, chart);
        }

        main.Add($"</div>");
        main.Add($"</section>");
        return PageShell.Document($"{view.Label}: {Wording.Word(view.Assessment.Standing)}", input.Notice, Header(view), main, Footer(input, view));
    }

    /// <summary>What kind of pack it is, in one line.</summary>
    public static string Kind(PackDetails details)
    {
        string layout = details.Parallel > 1
            ? $"{details.Cells.ToString(CultureInfo.InvariantCulture)}S{details.Parallel.ToString(CultureInfo.InvariantCulture)}P"
            : $"{details.Cells.ToString(CultureInfo.InvariantCulture)}S";
        string capacity = details.RatedCapacity is { } rated ? $"{Wording.Figure(rated.Value, 2)}\u00A0Ah" : "capacity not stated";
        return $"{layout} {Wording.Word(details.Chemistry)}, {capacity}";
    }

    private static Markup Header(PackView view)
    {
        var html = new HtmlBuilder();
        PackDetails details = view.Assessment.Pack.Details;
        html.Add($"<p class=\"back small\"><a href=\"{ReportWriter.OverviewFileName}\">All packs</a></p>");
        html.Add($"<h1>{HtmlText.Isolate(view.Label)}</h1>");
        var more = new List<Markup> { HtmlBuilder.Piece($"{Kind(details)}") };
        if (details.Bought is { } bought)
        {
            more.Add(HtmlBuilder.Piece($"bought {view.Dates.Day(bought)}"));
        }

        if (details.Vehicle is { } vehicle)
        {
            more.Add(HtmlBuilder.Piece($"used in {HtmlText.Isolate(vehicle)}"));
        }

        if (details.Connector is { } connector)
        {
            more.Add(HtmlBuilder.Piece($"connector {HtmlText.Isolate(connector)}"));
        }

        html.Add($"<p class=\"quiet\">{new Markup(string.Join("; ", more.Select(piece => piece.Value)))}. As of {view.Moment(view.Assessment.Assessed)}.</p>");
        if (view.Assessment.Pack.Retirement is { } retirement)
        {
            html.Add($"<p><b>Out of use since {view.Date(retirement.At)}:</b> {HtmlText.Isolate(retirement.Reason)}</p>");
        }

        Standing standing = view.Assessment.Standing;
        html.Add($"<p class=\"standing\">{StandingMark.Of(standing)}<span><span class=\"word\">{Wording.Word(standing)}</span>: {Wording.Meaning(standing)}</span></p>");
        return html.ToMarkup();
    }

    private static void AddFindings(HtmlBuilder html, PackView view)
    {
        html.Add($"<section>");
        html.Add($"<h2>What was found, and what to do</h2>");
        if (view.Assessment.Findings.Count == 0)
        {
            html.Add($"<p>{(view.Assessment.Standing == Standing.Unknown ? "No finding: there is too little on record." : "No finding: nothing on record is past a limit.")}</p></section>");
            return;
        }

        html.Add($"<ol class=\"findings\">");
        foreach (IGrouping<(FindingLevel, string), Finding> entry in view.Assessment.Findings.OrderByDescending(finding => finding.Level).GroupBy(finding => (finding.Level, finding.Action)))
        {
            Finding first = entry.First();
            html.Add($"<li><p>{StandingMark.Of(first)}<span class=\"word\">{Wording.Word(first.Level)}</span></p><div>");
            foreach (Finding finding in entry)
            {
                html.Add($"<p>{HtmlText.Prose(view.Dates.Restate(finding.Text))}</p>");
            }

            List<long> sessions = [.. entry.SelectMany(finding => finding.Sessions).Distinct().Order()];
            html.Add($"<p class=\"do\">{HtmlText.Prose(view.Dates.Restate(first.Action))}</p>");
            if (sessions.Count > 0)
            {
                html.Add($"<p class=\"quiet small\">Rests on {Wording.Count(sessions.Count, "session", "sessions")}: {Numbers(sessions)}.</p>");
            }

            html.Add($"</div></li>");
        }

        html.Add($"</ol></section>");
    }

    private static string Numbers(List<long> sessions)
    {
        const int most = 12;
        string shown = string.Join(", ", sessions.Take(most).Select(number => "#" + number.ToString(CultureInfo.InvariantCulture)));
        return sessions.Count > most ? $"{shown} and {(sessions.Count - most).ToString(CultureInfo.InvariantCulture)} more" : shown;
    }

    private static void AddFacts(HtmlBuilder html, PackView view)
    {
        html.Add($"<section>");
        html.Add($"<h2>In figures</h2>");
        html.Add($"<dl class=\"facts\">");
        AddFact(html, "Rest spread", PackFigures.RestSpread(view));
        AddFact(html, "Cell furthest off", PackFigures.WorstCell(view));
        AddFact(html, "Resistance against its baseline", PackFigures.Resistance(view));
        AddFact(html, "Capacity", PackFigures.Capacity(view));
        AddFact(html, "Full now", PackFigures.FullNow(view));
        AddFact(html, "Next date", NextDate.Of(view));
        AddFact(html, "Use", PackFigures.Usage(view));
        html.Add($"</dl></section>");
    }

    private static void AddFact(HtmlBuilder html, string name, (string Short, string Long) figure) =>
        html.Add($"<div><dt>{name}</dt><dd><span class=\"big\">{HtmlText.Prose(figure.Short)}</span><span class=\"small quiet\">{HtmlText.Prose(figure.Long)}</span></dd></div>");

    private static void AddChart(HtmlBuilder html, Chart chart)
    {
        html.Add($"<figure>");
        html.Add($"<figcaption><h3>{chart.Question}</h3><p>{HtmlText.Prose(chart.Answer)}</p>");
        if (chart.Evidence.Count > 0)
        {
            html.Add($"<ul class=\"evidence small\">");
            foreach (string sentence in chart.Evidence)
            {
                html.Add($"<li>{HtmlText.Prose(sentence)}</li>");
            }

            html.Add($"</ul>");
        }

        html.Add($"</figcaption>");
        if (chart.Panels.Count > 0)
        {
            AddDrawings(html, chart);
        }

        if (chart.HowToRead is { } how)
        {
            html.Add($"<p class=\"how quiet small\">{how}</p>");
        }

        AddTable(html, chart);
        html.Add($"</figure>");
    }

    private static void AddDrawings(HtmlBuilder html, Chart chart)
    {
        html.Add($"<div class=\"draw\">");
        foreach (Panel panel in chart.Panels)
        {
            if (panel.Heading is { } heading)
            {
                html.Add($"<p class=\"panel\">{heading}</p>");
            }

            foreach (ChartSize size in ChartSize.All)
            {
                html.Add(Drawing.Svg(panel, size, chart.Question, chart.Answer));
            }
        }

        if (chart.Name == DayChart.Name)
        {
            html.Add(DayKey);
        }

        html.Add($"</div>");
    }

    private static void AddTable(HtmlBuilder html, Chart chart)
    {
        if (chart.Data.Rows.Count == 0)
        {
            return;
        }

        html.Add($"<details><summary>The numbers behind it ({Wording.Count(chart.Data.Rows.Count, "row", "rows")})</summary>");
        if (chart.Data.Note is { } note)
        {
            html.Add($"<p class=\"quiet\">{note}</p>");
        }

        html.Add($"<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"Numbers behind: {chart.Question}\"><table class=\"data\"><thead><tr>");
        foreach (string column in chart.Data.Columns)
        {
            html.Add($"<th scope=\"col\">{column}</th>");
        }

        html.Add($"</tr></thead><tbody>");
        foreach (IReadOnlyList<string> row in chart.Data.Rows)
        {
            html.Add($"<tr>{new Markup(string.Concat(row.Select(cell => $"<td>{HtmlText.Escape(cell)}</td>")))}</tr>");
        }

        html.Add($"</tbody></table></div></details>");
    }

    private static Markup DayKey { get; } = new(
        "<ul class=\"key\">" +
        KeyItem($"<path d=\"M1 1h14v14h-14z\" class=\"f-{Tones.Vermillion.Name}\"/>", "full") +
        KeyItem($"<path d=\"M1.5 1.5h13v13h-13zM1.5 8L8 1.5M1.5 14.5L14.5 1.5M8 14.5L14.5 8\" fill=\"none\" class=\"s-{Tones.Vermillion.Name}\"/>", "possibly full") +
        KeyItem($"<path d=\"M1 6.6h14v8.4h-14z\" class=\"f-{Tones.Purple.Name}\"/>", "part") +
        KeyItem($"<path d=\"M1 10.8h14v4.2h-14z\" class=\"f-{Tones.Green.Name}\"/>", "storage") +
        KeyItem($"<circle cx=\"8\" cy=\"8\" r=\"4\" class=\"f-{Tones.Blue.Name}\"/>", "in use") +
        KeyItem($"<path d=\"M1 14.5h14\" class=\"s-{Tones.Muted.Name}\"/>", "unknown") +
        "</ul>");

    private static string KeyItem(string shape, string word) => $"<li><svg viewBox=\"0 0 16 16\" aria-hidden=\"true\">{shape}</svg>{word}</li>";

    private static Markup Footer(ReportInput input, PackView view)
    {
        var html = new HtmlBuilder();
        UsageAssessment usage = view.Assessment.Usage;
        string period = usage is { First: { } first, Last: { } last } ? $", from {view.Date(first)} to {view.Date(last)}" : "";
        html.Add($"<p>{PageShell.MadeBy}{view.Moment(input.Made)}. The history held of this pack {Wording.Count(view.Pack.History.Sessions.Count, "logged session", "logged sessions")}, {Wording.Count(view.Pack.History.SpotChecks.Count, "spot check", "spot checks")} and {Wording.Count(view.Pack.History.Entries.Count, "diary entry", "diary entries")}{period}.</p>");
        html.Add($"<p>Intervals are 95\u00A0% intervals; n is the number of readings behind a figure. {view.Dates.Legend} Colours after Okabe and Ito, 2008.</p>");
        return html.ToMarkup();
    }
}
