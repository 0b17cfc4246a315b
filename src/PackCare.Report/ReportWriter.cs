using System.Text;
using PackCare.Report.Charts;
using PackCare.Report.Html;
using PackCare.Report.Pages;

namespace PackCare.Report;

/// <summary>Draws the report: an overview and a page a pack, each a self-contained HTML file without script or outside request.</summary>
public static class ReportWriter
{
    /// <summary>Name of the overview's file.</summary>
    public const string OverviewFileName = "index.html";

    private static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: false);

    /// <summary>Writes the report into a folder. The same input gives the same bytes.</summary>
    /// <param name="input">What to draw.</param>
    /// <param name="folder">An existing folder; files of the same names are replaced.</param>
    /// <returns>Paths of the written files, the overview first, then the packs by urgency.</returns>
    /// <exception cref="IOException">A file cannot be written.</exception>
    /// <exception cref="UnauthorizedAccessException">A file may not be written.</exception>
    public static IReadOnlyList<string> Write(ReportInput input, string folder)
    {
        (IReadOnlyList<PackView> views, IReadOnlyList<string> names) = Prepare(input);
        string[] links = [.. names.Select(name => name + ".html")];
        string[] paths = [Path.Combine(folder, OverviewFileName), .. links.Select(link => Path.Combine(folder, link))];
        var sparklines = new Markup[views.Count];
        Parallel.For(0, views.Count, Bounded, at =>
        {
            WritePage(paths[at + 1], PackPage.Build(input, views[at], PackCharts.Of(views[at])));
            sparklines[at] = Sparkline.Make(views[at]);
        });
        WritePage(paths[0], OverviewPage.Build(input, views, links, sparklines));
        return paths;
    }

    /// <summary>Writes every chart of every pack as a PNG of its own, in the light colours, at twice its size in pixels.</summary>
    /// <param name="input">What to draw.</param>
    /// <param name="folder">An existing folder; files of the same names are replaced.</param>
    /// <returns>Paths of the written files, the packs by urgency.</returns>
    /// <exception cref="IOException">A file cannot be written.</exception>
    /// <exception cref="UnauthorizedAccessException">A file may not be written.</exception>
    public static IReadOnlyList<string> WritePng(ReportInput input, string folder)
    {
        (IReadOnlyList<PackView> views, IReadOnlyList<string> names) = Prepare(input);
        var paths = new List<string>[views.Count];
        Parallel.For(0, views.Count, Bounded, at =>
        {
            paths[at] = [];
            foreach (Chart chart in PackCharts.Of(views[at]))
            {
                for (int panel = 0; panel < chart.Panels.Count; panel++)
                {
                    string part = chart.Panels.Count > 1 ? $"-{(panel + 1).ToString(System.Globalization.CultureInfo.InvariantCulture)}" : "";
                    string path = Path.Combine(folder, $"{names[at]}-{chart.Name}{part}.png");
                    File.WriteAllBytes(path, Drawing.Png(chart.Panels[panel], ChartSize.Wide, chart.Question));
                    paths[at].Add(path);
                }
            }
        });
        return [.. paths.SelectMany(list => list)];
    }

    private static void WritePage(string path, HtmlBuilder page)
    {
        using var writer = new StreamWriter(path, append: false, Utf8);
        page.WriteTo(writer);
    }

    private static ParallelOptions Bounded { get; } = new() { MaxDegreeOfParallelism = Environment.ProcessorCount };

    /// <summary>The packs by urgency with the names of their files.</summary>
    internal static (IReadOnlyList<PackView> Views, IReadOnlyList<string> Names) Prepare(ReportInput input)
    {
        IReadOnlyList<PackView> views = [.. PackOrder.Sort(input).Select(pack => new PackView(pack, input.Made.Offset, input.Dates))];
        return (views, PageNames.For([.. views.Select(view => view.Label)]));
    }
}
