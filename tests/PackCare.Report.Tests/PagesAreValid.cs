using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;
using AngleSharp.Dom;
using PackCare.Report.Tests.Fixtures;

namespace PackCare.Report.Tests;

public sealed partial class PagesAreValid(WrittenReport report) : IClassFixture<WrittenReport>
{
    private static readonly string[] CautionWords = ["maker", "local rules", "Swollen", "Charging", "Disposal", "Fire", "Storage", "40 \u00B0C"];

    [Fact]
    public void A_report_is_an_overview_and_a_page_a_pack()
    {
        Assert.Equal("index.html", Path.GetFileName(report.Paths[0]));
        Assert.Equal(StoryTeller.Everything().Packs.Count + 1, report.Paths.Count);
        Assert.Equal(report.Paths.Order(), Directory.GetFiles(report.Folder).Order());
    }

    [Fact]
    public void Every_page_parses_without_a_single_error_and_has_no_id_twice()
    {
        foreach (string path in report.Paths)
        {
            IDocument page = WrittenReport.Parse(path);
            string[] ids = [.. page.QuerySelectorAll("[id]").Select(element => element.Id!)];
            Assert.Equal(ids.Distinct(), ids);
            Assert.Equal("en", page.DocumentElement.GetAttribute("lang"));
            Assert.Single(page.QuerySelectorAll("h1"));
            Assert.Single(page.QuerySelectorAll("main"));
        }
    }

    [Fact]
    public void No_page_has_script_or_asks_for_anything_from_outside()
    {
        HashSet<string> files = [.. report.Paths.Select(path => Path.GetFileName(path))];
        foreach (string path in report.Paths)
        {
            IDocument page = WrittenReport.Parse(path);
            Assert.Empty(page.QuerySelectorAll("script, link, img, iframe, object, embed, audio, video, form, input, base, use, image, foreignObject, animate, set"));
            foreach (IElement element in page.All)
            {
                Assert.DoesNotContain(element.Attributes, attribute => attribute.Name.StartsWith("on", StringComparison.OrdinalIgnoreCase));
                Assert.False(element.HasAttribute("style"), "The policy forbids style attributes.");
                Assert.False(element.HasAttribute("src") || element.HasAttribute("xlink:href") || element.HasAttribute("srcset"));
                if (element.GetAttribute("href") is { } href)
                {
                    Assert.Contains(href, files);
                }
            }

            string text = File.ReadAllText(path).Replace("http://www.w3.org/2000/svg", "", StringComparison.Ordinal);
            Assert.DoesNotMatch(OutsideReference(), text);
        }
    }

    [Fact]
    public void The_policy_allows_the_one_style_sheet_by_its_digest_and_nothing_else()
    {
        foreach (string path in report.Paths)
        {
            IDocument page = WrittenReport.Parse(path);
            string policy = page.QuerySelector("meta[http-equiv=Content-Security-Policy]")!.GetAttribute("content")!;
            string style = Assert.Single(page.QuerySelectorAll("style")).TextContent;
            string digest = Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(style)));
            Assert.Equal($"default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'", policy);
        }
    }

    [Fact]
    public void Every_chart_has_a_name_a_description_and_a_table_of_its_numbers()
    {
        foreach (string path in report.Paths.Skip(1))
        {
            foreach (IElement figure in WrittenReport.Parse(path).QuerySelectorAll("figure"))
            {
                Assert.False(string.IsNullOrWhiteSpace(figure.QuerySelector("h3")!.TextContent));
                Assert.False(string.IsNullOrWhiteSpace(figure.QuerySelector("figcaption p")!.TextContent));
                IHtmlCollection<IElement> plots = figure.QuerySelectorAll("svg.plot");
                Assert.Equal(plots.Length > 0, figure.QuerySelector("details table tbody tr") is not null);
                Assert.All(plots, plot =>
                {
                    Assert.Equal("img", plot.GetAttribute("role"));
                    Assert.False(string.IsNullOrWhiteSpace(plot.GetAttribute("aria-label")));
                    Assert.False(string.IsNullOrWhiteSpace(plot.QuerySelector("desc")!.TextContent));
                });
            }
        }
    }

    [Fact]
    public void Headings_skip_no_level()
    {
        foreach (string path in report.Paths)
        {
            int level = 0;
            foreach (IElement heading in WrittenReport.Parse(path).QuerySelectorAll("h1,h2,h3,h4"))
            {
                int next = heading.LocalName[1] - '0';
                Assert.True(next <= level + 1, $"{Path.GetFileName(path)}: {heading.TextContent}");
                level = next;
            }
        }
    }

    [Fact]
    public void No_page_shows_a_figure_that_is_none()
    {
        foreach (string path in report.Paths)
        {
            Assert.DoesNotMatch(NoFigure(), File.ReadAllText(path));
        }
    }

    [Fact]
    public void No_page_calls_a_pack_safe()
    {
        foreach (string path in report.Paths)
        {
            Assert.DoesNotMatch(Safe(), WrittenReport.Parse(path).Body!.TextContent);
        }
    }

    [Fact]
    public void Every_page_has_the_cautions_the_notice_and_says_what_it_rests_on()
    {
        foreach (string path in report.Paths)
        {
            IDocument page = WrittenReport.Parse(path);
            string cautions = page.QuerySelector("section.cautions")!.TextContent;
            Assert.All(CautionWords, word => Assert.Contains(word, cautions, StringComparison.Ordinal));
            Assert.Contains("Everything here is invented.", page.QuerySelector("header")!.FirstElementChild!.TextContent, StringComparison.Ordinal);
            string footer = page.QuerySelector("footer")!.TextContent;
            Assert.Contains("2026-06-01 18:30", footer, StringComparison.Ordinal);
            Assert.Contains("logged session", footer, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_same_input_gives_the_same_bytes()
    {
        using var again = new WrittenReport(StoryTeller.Everything());
        Assert.Equal(report.Paths.Select(File.ReadAllText), again.Paths.Select(File.ReadAllText));
    }

    [GeneratedRegex(@"https?:|//[a-z]|url\(|@import|javascript:|data:", RegexOptions.IgnoreCase)]
    private static partial Regex OutsideReference();

    [GeneratedRegex(@"NaN|Infinity|\u221E|>null<|\bundefined\b")]
    private static partial Regex NoFigure();

    [GeneratedRegex(@"\b(un)?safe(ly)?\b", RegexOptions.IgnoreCase)]
    private static partial Regex Safe();
}
