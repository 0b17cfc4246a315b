using PackCare.Analysis.Assessments;
using PackCare.Report.Charts;
using PackCare.Report.Html;

namespace PackCare.Report.Pages;

/// <summary>The overview: what is due, then every pack in one row, then what is not known.</summary>
internal static class OverviewPage
{
    private const string Title = "What the packs need";

    /// <summary>Builds it.</summary>
    /// <param name="input">What the report is made of.</param>
    /// <param name="views">The packs, most urgent first.</param>
    /// <param name="links">File name of each pack's page, in the same order.</param>
    /// <param name="sparklines">Sparkline of each pack, in the same order.</param>
    public static HtmlBuilder Build(ReportInput input, IReadOnlyList<PackView> views, IReadOnlyList<string> links, IReadOnlyList<Markup> sparklines)
    {
        var main = new HtmlBuilder();
        Dictionary<string, string> linkOf = [];
        for (int i = 0; i < views.Count; i++)
        {
            linkOf.TryAdd(views[i].Label, links[i]);
        }

        AddDue(main, input, linkOf);
        AddPacks(main, views, links, sparklines);
        AddUnknown(main, views, links);
        return PageShell.Document(Title, input.Notice, Header(input, views), main, Footer(input, views));
    }

    private static Markup Header(ReportInput input, IReadOnlyList<PackView> views)
    {
        DateText dates = DateText.In(input.Dates);
        var html = new HtmlBuilder();
        html.Add($"<h1>{Title}</h1>");
        html.Add($"<p class=\"quiet\">As of {dates.Moment(input.Made, input.Made.Offset)}</p>");
        List<PackView> inUse = [.. views.Where(view => view.Assessment.Pack.Retirement is null)];
        html.Add($"<ul class=\"tally\">");
        html.Add($"<li>{Wording.Count(inUse.Count, "pack", "packs")} in use</li>");
        foreach (Standing standing in Enum.GetValues<Standing>().OrderDescending())
        {
            int count = inUse.Count(view => view.Assessment.Standing == standing);
            if (count > 0)
            {
                html.Add($"<li>{StandingMark.Of(standing)}{count} {Wording.Word(standing)}</li>");
            }
        }

        if (views.Count > inUse.Count)
        {
            html.Add($"<li>{views.Count - inUse.Count} out of use</li>");
        }

        html.Add($"</ul>");
        return html.ToMarkup();
    }

    private static void AddDue(HtmlBuilder html, ReportInput input, Dictionary<string, string> linkOf)
    {
        html.Add($"<section>");
        html.Add($"<h2>Due</h2>");
        if (input.Due.Count == 0)
        {
            html.Add($"<p>Nothing is due, as far as the records tell.</p>");
        }
        else
        {
            html.Add($"<ol class=\"due\">");
            // What asks for the same thing of the same pack is one entry with several reasons.
            foreach (IGrouping<(string, DueUrgency, string), DueItem> entry in input.Due.OrderBy(item => item.Urgency).GroupBy(item => (item.PackLabel, item.Urgency, item.Finding.Action)))
            {
                AddDueEntry(html, input, [.. entry], linkOf);
            }

            html.Add($"</ol>");
        }

        html.Add($"</section>");
    }

    private static void AddDueEntry(HtmlBuilder html, ReportInput input, List<DueItem> items, Dictionary<string, string> linkOf)
    {
        DateText dates = DateText.In(input.Dates);
        DueItem first = items[0];
        Markup who = linkOf.TryGetValue(first.PackLabel, out string? link)
            ? HtmlBuilder.Piece($"<a href=\"{link}\">{HtmlText.Isolate(first.PackLabel)}</a>")
            : HtmlText.Isolate(first.PackLabel);
        string since = items.Min(item => item.Since) is { } at ? $"since {dates.Day(at, input.Made.Offset)}" : "";
        Markup mark = first.Urgency == DueUrgency.Stop ? StandingMark.Of(Standing.Stop) : StandingMark.Of(items.MaxBy(item => item.Finding.Level)!.Finding);
        html.Add($"<li><p>{mark}<span class=\"word\">{Wording.Word(first.Urgency)}</span> <span class=\"quiet small since\">{HtmlText.Prose(since)}</span></p>");
        html.Add($"<div><p class=\"who\">{who}: <span class=\"do\">{HtmlText.Prose(dates.Restate(first.Finding.Action))}</span></p>");
        foreach (DueItem item in items)
        {
            html.Add($"<p class=\"quiet\">{HtmlText.Prose(dates.Restate(item.Finding.Text))}</p>");
        }

        html.Add($"</div></li>");
    }

    private static void AddPacks(HtmlBuilder html, IReadOnlyList<PackView> views, IReadOnlyList<string> links, IReadOnlyList<Markup> sparklines)
    {
        html.Add($"<section>");
        html.Add($"<h2>Packs, most urgent first</h2>");
        if (views.Count == 0)
        {
            html.Add($"<p>No pack is on record yet.</p></section>");
            return;
        }

        html.Add($"<table class=\"packs\" role=\"table\">");
        html.Add($"<thead role=\"rowgroup\"><tr role=\"row\">");
        foreach (string heading in Headings)
        {
            html.Add($"<th role=\"columnheader\" scope=\"col\">{heading}</th>");
        }

        html.Add($"</tr></thead>");
        html.Add($"<tbody role=\"rowgroup\">");
        for (int i = 0; i < views.Count; i++)
        {
            AddRow(html, views[i], links[i], sparklines[i]);
        }

        html.Add($"</tbody></table></section>");
    }

    private static readonly string[] Headings =
        ["Pack", "Standing", "Rest spread", "Cell furthest off", "Resistance against its baseline", "Capacity", "Full now", "Next date", "Rest spread over time"];

    private static void AddRow(HtmlBuilder html, PackView view, string link, Markup sparkline)
    {
        PackAssessment assessment = view.Assessment;
        html.Add($"<tr role=\"row\">");
        html.Add($"<th role=\"rowheader\" scope=\"row\"><a href=\"{link}\">{HtmlText.Isolate(view.Label)}</a><span class=\"small quiet\">{PackPage.Kind(assessment.Pack.Details)}</span></th>");
        bool retired = assessment.Pack.Retirement is not null;
        html.Add($"<td role=\"cell\" class=\"wide\">{StandingMark.Of(assessment.Standing)}<span class=\"word\">{Wording.Word(assessment.Standing)}</span><span class=\"small quiet\">{(retired ? "already out of use" : Wording.Meaning(assessment.Standing))}</span></td>");
        AddFigure(html, Headings[2], PackFigures.RestSpread(view));
        AddFigure(html, Headings[3], PackFigures.WorstCell(view));
        AddFigure(html, Headings[4], PackFigures.Resistance(view));
        AddFigure(html, Headings[5], PackFigures.Capacity(view));
        AddFigure(html, Headings[6], PackFigures.FullNow(view));
        AddFigure(html, Headings[7], NextDate.Of(view));
        html.Add($"<td role=\"cell\"><span class=\"k\">{Headings[8]}</span>{sparkline}</td>");
        html.Add($"</tr>");
    }

    private static void AddFigure(HtmlBuilder html, string heading, (string Short, string Long) figure)
    {
        Markup more = figure.Long.Length > 0 ? HtmlBuilder.Piece($"<span class=\"small quiet\">{HtmlText.Prose(figure.Long)}</span>") : Markup.None;
        html.Add($"<td role=\"cell\"><span class=\"k\">{heading}</span>{HtmlText.Prose(figure.Short)}{more}</td>");
    }

    private static void AddUnknown(HtmlBuilder html, IReadOnlyList<PackView> views, IReadOnlyList<string> links)
    {
        html.Add($"<section>");
        html.Add($"<h2>What is not known</h2>");
        var lines = new HtmlBuilder();
        bool any = false;
        for (int i = 0; i < views.Count; i++)
        {
            IReadOnlyList<string> unknowns = views[i].Assessment.Pack.Retirement is null ? PackFigures.Unknowns(views[i]) : [];
            if (unknowns.Count > 0)
            {
                any = true;
                lines.Add($"<li><a href=\"{links[i]}\">{HtmlText.Isolate(views[i].Label)}</a>: {Wording.Join(unknowns)}.</li>");
            }
        }

        if (any)
        {
            html.Add($"<ul class=\"unknown\">");
            html.Add(lines);
            html.Add($"</ul>");
        }
        else
        {
            html.Add($"<p>{(views.Count == 0 ? "Everything: the history holds no pack." : "Every figure above rests on enough records.")}</p>");
        }

        html.Add($"</section>");
    }

    private static Markup Footer(ReportInput input, IReadOnlyList<PackView> views)
    {
        DateText dates = DateText.In(input.Dates);
        var html = new HtmlBuilder();
        int sessions = views.Sum(view => view.Pack.History.Sessions.Count);
        int checks = views.Sum(view => view.Pack.History.SpotChecks.Count);
        int entries = views.Sum(view => view.Pack.History.Entries.Count);
        html.Add($"<p>{PageShell.MadeBy}{dates.Moment(input.Made, input.Made.Offset)} from a history of {Wording.Count(views.Count, "pack", "packs")}, {Wording.Count(sessions, "logged session", "logged sessions")}, {Wording.Count(checks, "spot check", "spot checks")} and {Wording.Count(entries, "diary entry", "diary entries")}{Period(views)}.</p>");
        html.Add($"<p>Intervals are 95\u00A0% intervals; n is the number of readings behind a figure. {dates.Legend} Colours after Okabe and Ito, 2008.</p>");
        return html.ToMarkup();
    }

    private static string Period(IReadOnlyList<PackView> views)
    {
        List<DateTimeOffset> first = [.. views.Select(view => view.Assessment.Usage.First).OfType<DateTimeOffset>()];
        List<DateTimeOffset> last = [.. views.Select(view => view.Assessment.Usage.Last).OfType<DateTimeOffset>()];
        return first.Count > 0 && last.Count > 0 ? $", from {views[0].Date(first.Min())} to {views[0].Date(last.Max())}" : "";
    }
}
