using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using PackCare.Report.Tests.Browser;
using PackCare.Report.Tests.Fixtures;

namespace PackCare.Report.Tests;

[Collection(OpenReport.Name)]
public sealed partial class PagesFitTheScreen(OpenReport open)
{
    // Text that sticks out of the box that holds it: of an element that hides what sticks out, of the page, or of a drawing.
    private const string ClippedText = """
        (() => {
          const wrong = [];
          for (const details of document.querySelectorAll('details')) details.open = true;
          const wide = document.documentElement.scrollWidth;
          if (wide > window.innerWidth) wrong.push('the page is ' + wide + ' wide');
          const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
          while (walker.nextNode()) {
            const node = walker.currentNode, holder = node.parentElement;
            if (!node.data.trim() || holder.closest('.scroll, desc, title, thead') || !holder.checkVisibility()) continue;
            const range = document.createRange();
            range.selectNodeContents(node);
            for (const box of range.getClientRects()) {
              if (box.left < -0.5 || box.right > window.innerWidth + 0.5) wrong.push('off the page: ' + node.data.trim());
              const drawing = holder.closest('svg');
              if (!drawing) continue;
              const frame = drawing.getBoundingClientRect();
              if (box.left < frame.left - 0.5 || box.right > frame.right + 0.5 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1)
                wrong.push('out of its drawing: ' + node.data.trim() + ' in ' + drawing.getAttribute('aria-label'));
            }
          }
          for (const box of document.querySelectorAll('body *')) {
            const style = getComputedStyle(box);
            if (!box.closest('.scroll, thead, svg') && style.overflowX !== 'visible' && box.scrollWidth > box.clientWidth + 1) wrong.push('clipped: ' + box.className);
          }
          return [...new Set(wrong)];
        })()
        """;

    private const string SmallestText = """
        Math.min(...[...document.querySelectorAll('svg.plot text')].filter(t => t.checkVisibility()).map(t => parseFloat(t.getAttribute('font-size')) * t.getScreenCTM().a), 99)
        """;

    [Theory]
    [MemberData(nameof(Screens.All), MemberType = typeof(Screens))]
    public async Task Nothing_is_clipped_or_needs_scrolling_sideways_and_the_accessibility_engine_finds_nothing(int width, bool dark)
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        foreach (string path in open.Report.Paths)
        {
            await open.Browser.OpenAsync(path, width, dark, stop);
            string name = $"{Path.GetFileNameWithoutExtension(path)}-{width.ToString(CultureInfo.InvariantCulture)}{(dark ? "-dark" : "")}";
            await File.WriteAllBytesAsync(Path.Combine(OpenReport.PictureFolder, name + ".png"), await open.Browser.PictureAsync(stop), stop);
            JsonArray wrong = (await open.Browser.EvaluateAsync(ClippedText, stop))!.AsArray();
            Assert.True(wrong.Count == 0, $"{name}: {wrong.ToJsonString()}");
            double smallest = (await open.Browser.EvaluateAsync(SmallestText, stop))!.GetValue<double>();
            Assert.True(smallest >= 9.5, $"{name}: text of {smallest.ToString("F1", CultureInfo.InvariantCulture)} px in a drawing");
            Assert.False(open.Browser.Complained, $"{name}: the page breaks its own policy or asks for something that is not there");

            // Rows of a table are alike, and the engine takes its time over each cell.
            await open.Browser.EvaluateAsync("document.querySelectorAll('.data tbody tr:nth-child(n+4)').forEach(row => row.remove())", stop);
            string[] faults = await open.Browser.AccessibilityFaultsAsync(stop);
            Assert.True(faults.Length == 0, $"{name}: {string.Join('\n', faults)}");
        }
    }

    // Months as words are longer than figures.
    [Theory]
    [InlineData(360)]
    [InlineData(1440)]
    public async Task Dates_in_another_order_fit_as_well(int width)
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        using var report = new WrittenReport(StoryTeller.Tell(null, OpenReport.HardStories[0], OpenReport.HardStories[1]) with { Dates = DateOrder.MonthFirst });
        foreach (string path in report.Paths)
        {
            await open.Browser.OpenAsync(path, width, dark: false, stop);
            JsonArray wrong = (await open.Browser.EvaluateAsync(ClippedText, stop))!.AsArray();
            Assert.True(wrong.Count == 0, wrong.ToJsonString());
        }
    }

    [Fact]
    public async Task Dark_and_light_pages_differ_and_drawings_follow()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        const string colours = "getComputedStyle(document.body).backgroundColor + ' ' + getComputedStyle(document.querySelector('svg.plot text.f-muted')).fill";
        await open.Browser.OpenAsync(open.Report.Paths[1], 1440, dark: false, stop);
        Assert.Equal("rgb(247, 246, 242) rgb(89, 97, 106)", (string?)await open.Browser.EvaluateAsync(colours, stop));
        await open.Browser.OpenAsync(open.Report.Paths[1], 1440, dark: true, stop);
        Assert.Equal("rgb(20, 23, 26) rgb(166, 174, 182)", (string?)await open.Browser.EvaluateAsync(colours, stop));
    }

    [Fact]
    public async Task The_accessibility_engine_finds_what_is_wrong()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        await open.Browser.OpenAsync(open.Report.Paths[0], 1440, dark: false, stop);
        await open.Browser.EvaluateAsync("document.querySelector('h1').style.color = '#F0F0F0'; document.documentElement.removeAttribute('lang')", stop);
        string[] faults = await open.Browser.AccessibilityFaultsAsync(stop);
        Assert.Contains(faults, fault => fault.StartsWith("color-contrast ", StringComparison.Ordinal));
        Assert.Contains(faults, fault => fault.StartsWith("html-has-lang ", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Everything_that_a_reader_meets_has_a_name()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        foreach (string path in open.Report.Paths)
        {
            await open.Browser.OpenAsync(path, 360, dark: false, stop);
            JsonArray nodes = await open.Browser.AccessibilityTreeAsync(stop);
            foreach (JsonNode? node in nodes.Where(node => (bool?)node!["ignored"] != true))
            {
                string role = (string?)node!["role"]?["value"] ?? "";
                if (role is "image" or "img" or "link" or "heading" or "columnheader" or "rowheader" or "region")
                {
                    Assert.False(string.IsNullOrWhiteSpace((string?)node["name"]?["value"]), $"{Path.GetFileName(path)}: a {role} without a name");
                }
            }

            // The table of packs stays one for those who hear it, even where it is laid out as cards.
            if (Path.GetFileName(path) == "index.html")
            {
                Assert.Equal(OpenReport.HardStories.Length + 1, nodes.Count(node => (string?)node!["role"]?["value"] == "row"));
            }
        }
    }

    [Fact]
    public async Task No_drawing_is_cut_by_the_edge_of_a_sheet_of_paper()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        await open.Browser.OpenAsync(open.Report.Paths[1], 1440, dark: true, stop);
        const string tallest = "Math.max(...[...document.querySelectorAll('figure')].map(f => f.getBoundingClientRect().height))";
        byte[] pdf = await open.Browser.PrintAsync(stop);
        await File.WriteAllBytesAsync(Path.Combine(OpenReport.PictureFolder, "pack.pdf"), pdf, stop);
        int sheets = SheetOfPaper().Count(System.Text.Encoding.Latin1.GetString(pdf));

        // A figure is kept whole where it fits a sheet, so each must: A4 less margins is 269 mm high, 1017 px of 96 an inch.
        double height = (await open.Browser.EvaluateAsync(tallest, stop))!.GetValue<double>();
        Assert.InRange(height, 100, 1017);
        Assert.InRange(sheets, 2, 8);
    }

    [GeneratedRegex(@"/Type\s*/Page\b")]
    private static partial Regex SheetOfPaper();
}
