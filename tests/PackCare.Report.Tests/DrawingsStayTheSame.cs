using System.Globalization;
using System.Text.RegularExpressions;
using PackCare.Report.Charts;
using PackCare.Report.Look;
using PackCare.Report.Tests.Fixtures;
using SkiaSharp;

namespace PackCare.Report.Tests;

/// <summary>
/// Compares drawings with kept ones. Set PACKCARE_UPDATE_GOLDEN to 1 to keep the present ones, and look at them before
/// committing. Places may differ by a quarter of a pixel, which is what platforms differ by.
/// </summary>
public sealed partial class DrawingsStayTheSame
{
    private static readonly PackView Drifting = new(StoryTeller.Tell(new Story { Label = "Golden", Charges = 8, DriftMillivolts = -3, ResistanceGrowth = 1.6, Fade = 0.15, SamplesPerCharge = 90 }, 1), StoryTeller.Now.Offset);

    public static readonly TheoryData<string, string> Drawings = new()
    {
        { "drift", "wide" }, { "drift", "narrow" }, { "resistance", "wide" }, { "capacity", "wide" }, { "days", "wide" }, { "last-charge", "wide" }, { "curve", "narrow" },
    };

    [Theory]
    [MemberData(nameof(Drawings))]
    public void A_drawing_is_as_it_was(string name, string size)
    {
        Chart chart = PackCharts.Of(Drifting).Single(chart => chart.Name == name);
        string drawn = string.Join('\n', chart.Panels.Select(panel =>
            Drawing.Svg(panel, ChartSize.All.Single(known => known.Name == size), chart.Question, chart.Answer).Value)).Replace("><", ">\n<", StringComparison.Ordinal) + "\n";
        string path = Path.Combine(KeptDrawings(), $"{name}-{size}.svg.txt");
        if (Environment.GetEnvironmentVariable("PACKCARE_UPDATE_GOLDEN") == "1")
        {
            File.WriteAllText(path, drawn);
        }

        string kept = File.ReadAllText(path).ReplaceLineEndings("\n");
        Assert.Equal(Figure().Replace(kept, "#"), Figure().Replace(drawn, "#"));
        double[] keptFigures = Figures(kept);
        double[] drawnFigures = Figures(drawn);
        for (int i = 0; i < keptFigures.Length; i++)
        {
            Assert.Equal(keptFigures[i], drawnFigures[i], 0.25);
        }
    }

    [Fact]
    public void A_drawing_has_no_ids_no_trailing_commas_no_prolog_and_only_known_elements()
    {
        foreach (Chart chart in PackCharts.Of(Drifting))
        {
            foreach (Panel panel in chart.Panels)
            {
                string svg = Drawing.Svg(panel, ChartSize.Narrow, chart.Question, chart.Answer).Value;
                Assert.StartsWith("<svg ", svg, StringComparison.Ordinal);
                Assert.DoesNotMatch(Unwanted(), svg);
                Assert.All(Element().Matches(svg).Select(match => match.Groups[1].Value).Distinct(), name => Assert.Contains(name, (string[])["svg", "desc", "path", "text", "rect"]));
                Assert.All(TextElement().Matches(svg), text => Assert.Contains("textLength=", text.Value, StringComparison.Ordinal));
            }
        }
    }

    [Fact]
    public void A_drawing_holds_its_data()
    {
        string Svg(string name) => string.Concat(PackCharts.Of(Drifting).Single(chart => chart.Name == name).Panels.Select(panel => Drawing.Svg(panel, ChartSize.Wide, "q", "a").Value));

        Assert.All(Tones.Cells.Take(4), tone => Assert.Contains($"class=\"s-{tone.Name}\"", Svg("drift"), StringComparison.Ordinal));
        Assert.All(Tones.Cells.Take(4), tone => Assert.Contains($"class=\"s-{tone.Name}\"", Svg("curve"), StringComparison.Ordinal));
        Assert.All(Tones.Cells.Take(4), tone => Assert.Contains($"class=\"s-{tone.Name}\"", Svg("last-charge"), StringComparison.Ordinal));
        Assert.Contains($"<path fill=\"#{Tones.Green.Light}\" class=\"f-{Tones.Green.Name}\" fill-opacity", Svg("resistance"), StringComparison.Ordinal);
        Assert.Contains(">act, 80 %<", Svg("capacity"), StringComparison.Ordinal);
        Assert.Contains($"class=\"f-{Tones.Green.Name}\"", Svg("days"), StringComparison.Ordinal);
        Assert.Contains(">cell 3<", Svg("drift"), StringComparison.Ordinal);
    }

    // With every word covered and in greyscale: one line is twice as heavy as any other, its marks are filled and theirs
    // hollow, and each limit has its teeth.
    [Theory]
    [InlineData(-1.9, 0.0, "wide")]
    [InlineData(-1.9, 0.0, "narrow")]
    [InlineData(0.0, 24.0, "wide")]
    [InlineData(0.0, 24.0, "narrow")]
    public void The_drifting_cell_and_the_limit_are_found_without_words_and_without_colour(double drift, double leak, string size)
    {
        var view = new PackView(StoryTeller.Tell(new Story { Label = "One", DriftMillivolts = drift, LeakMillivolts = leak }, 1), TimeSpan.Zero);
        Assert.Equal(drift != 0 ? 3 : null, leak != 0 ? null : view.FocusCell);
        view = leak == 0 ? view : view with { Pack = view.Pack with { Assessment = view.Assessment with { Imbalance = view.Assessment.Imbalance with { CauseCell = 3 } } } };
        string svg = Drawing.Svg(PackCharts.Of(view)[0].Panels[0], ChartSize.All.Single(known => known.Name == size), "q", "a").Value;

        (string Tone, double Width, bool Filled)[] shapes = [.. Shape().Matches(svg).Select(match => (
            match.Groups["tone"].Value,
            match.Groups["width"].Success ? double.Parse(match.Groups["width"].Value, CultureInfo.InvariantCulture) : 0,
            match.Groups["kind"].Value == "f"))];
        string[] cells = [.. Enumerable.Range(1, 4).Select(cell => CellStyle.Of(cell).Tone.Name)];
        double Heaviest(string tone) => shapes.Where(shape => shape.Tone == tone).Max(shape => shape.Width);
        Assert.All(cells.Where(tone => tone != cells[2]), tone => Assert.True(Heaviest(cells[2]) >= 2 * Heaviest(tone), tone));
        Assert.Equal([cells[2]], shapes.Where(shape => shape.Filled && cells.Contains(shape.Tone)).Select(shape => shape.Tone).Distinct());

        // A limit is a line and its teeth in one path of ink, many strokes long.
        Assert.True(Regex.Count(svg, $"<path fill=\"none\" stroke=\"#{Tones.Ink.Light}\" class=\"s-ink\"[^>]* d=\"(M[^M\"]+){{12,}}\"") >= 2, "the two watch limits");
    }

    // The same path by two roads: written by us, and by the graphics library.
    [Fact]
    public void A_path_that_we_write_is_the_one_that_is_drawn()
    {
        var trace = new Trace();
        trace.MoveTo(1.04f, 2);
        trace.LineTo(3.26f, -4.1f);
        trace.LineTo(3.26f, -4.1f);
        trace.Rect(10, 20, 30.5f, 40);
        trace.Circle(50, 60, 4);
        trace.MoveTo(0, 0);
        trace.LineTo(-0.3f, 100);
        var data = new System.Text.StringBuilder();
        trace.Write(data);
        Assert.Equal("M1 2l2.3-6.1 0 0M10 20l20.5 0 0 20-20.5 0zM46 60a4 4 0 1 0 8 0a4 4 0 1 0-8 0zM0 0l-0.3 100", data.ToString());
        using SKPath drawn = trace.ToPath();
        using SKPath written = SKPath.ParseSvgPathData(data.ToString());
        Assert.Equal(drawn.Bounds.Left, written.Bounds.Left, 0.1f);
        Assert.Equal(drawn.Bounds.Top, written.Bounds.Top, 0.1f);
        Assert.Equal(drawn.Bounds.Right, written.Bounds.Right, 0.1f);
        Assert.Equal(drawn.Bounds.Bottom, written.Bounds.Bottom, 0.1f);
    }

    [Fact]
    public void The_font_comes_along_so_that_a_bare_system_shows_text()
    {
        Assert.Equal("Liberation Sans", FontShelf.Typeface.FamilyName);
        Assert.Equal(0, FontShelf.Typeface.GetGlyphs("0123456789 \u03A9\u00B0\u2212\u00D7%.,ABCabc").Count(glyph => glyph == 0));
    }

    [Fact]
    public void A_picture_that_stands_alone_is_a_png_of_twice_the_size_with_its_question_on_it()
    {
        string folder = Directory.CreateTempSubdirectory("packcare-png-").FullName;
        try
        {
            ReportInput input = StoryTeller.Tell(null, new Story { Label = "One", Charges = 7, SamplesPerCharge = 60 });
            IReadOnlyList<string> paths = ReportWriter.WritePng(input, folder);
            Assert.Equal(
                ["pack-one-capacity", "pack-one-curve-1", "pack-one-curve-2", "pack-one-days", "pack-one-drift", "pack-one-last-charge-1", "pack-one-last-charge-2", "pack-one-last-charge-3", "pack-one-resistance"],
                paths.Select(Path.GetFileNameWithoutExtension).Order());
            foreach (string path in paths)
            {
                using var bitmap = SKBitmap.Decode(path);
                Assert.Equal(ChartSize.Wide.Width * 2, bitmap.Width);
                int dark = 0;
                for (int x = 20; x < bitmap.Width - 20; x++)
                {
                    for (int y = 4; y < 72; y++)
                    {
                        dark += bitmap.GetPixel(x, y).Red < 100 ? 1 : 0;
                    }
                }

                Assert.True(dark > 200, $"{path}: {dark.ToString(CultureInfo.InvariantCulture)} dark pixels where the question is");
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static double[] Figures(string text) => [.. Figure().Matches(text).Select(match => double.Parse(match.Value, CultureInfo.InvariantCulture))];

    // Not by the compiler's notion of this file's path, which a deterministic build maps to another.
    private static string KeptDrawings() => Path.Combine(Repository.Root, "tests", "PackCare.Report.Tests", "Files");

    [GeneratedRegex(@"(?<![#\w])-?\d+(\.\d+)?")]
    private static partial Regex Figure();

    [GeneratedRegex(@"\bid=|clip|,\s*""|<\?xml|url\(|#01\d{4}")]
    private static partial Regex Unwanted();

    [GeneratedRegex("<path [^>]*class=\"(?<kind>[fs])-(?<tone>[a-z]+)\"( stroke-width=\"(?<width>[\\d.]+)\")?")]
    private static partial Regex Shape();

    [GeneratedRegex(@"<([a-zA-Z]+)")]
    private static partial Regex Element();

    [GeneratedRegex(@"<text[^>]*>")]
    private static partial Regex TextElement();
}
