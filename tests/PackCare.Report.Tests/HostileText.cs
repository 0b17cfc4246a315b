using System.Text;
using AngleSharp.Dom;
using AngleSharp.Html.Parser;
using CsCheck;
using PackCare.Report.Html;
using PackCare.Report.Pages;
using PackCare.Report.Tests.Fixtures;

namespace PackCare.Report.Tests;

public class HostileText
{
    public static readonly TheoryData<string> Labels =
    [
        "<script>alert(1)</script>",
        "\"><img src=x onerror=alert(1)>",
        "' onmouseover='alert(1)",
        "</title></style><h1>no",
        "&amp; &lt; &#60;",
        "\u202Eright to left \u05E9\u05DC\u05D5\u05DD",
        "\uD83D\uDD0B battery \uD83D\uDC69\u200D\uD83D\uDD2C",
        "../../../etc/passwd",
        "CON",
        "..\\..\\x|y:z*?",
        "=HYPERLINK(\"x\")",
        "tab\there and\nnewline",
        "zero\0byte \u0007 bell \uFFFE none \uD800 lone",
        "WwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwW",
    ];

    [Theory]
    [MemberData(nameof(Labels))]
    public void A_label_is_shown_as_it_is_and_does_nothing(string label)
    {
        using var report = new WrittenReport(StoryTeller.Tell(label, new Story { Label = label, Charges = 6 }));

        foreach (string path in report.Paths)
        {
            IDocument page = WrittenReport.Parse(path);
            Assert.Empty(page.QuerySelectorAll("script, img, [onerror], [onmouseover]"));
            Assert.Single(page.QuerySelectorAll("h1"));
            Assert.Contains(page.QuerySelectorAll("bdi"), bdi => bdi.TextContent == Shown(label));
        }

        string name = Path.GetFileName(report.Paths[1]);
        Assert.Matches("^pack[a-z0-9-]*\\.html$", name);
        Assert.Equal(report.Folder, Path.GetDirectoryName(Path.GetFullPath(report.Paths[1])));
    }

    [Fact]
    public void Labels_that_differ_in_nothing_but_signs_get_files_of_their_own()
    {
        string[] labels = ["A 1", "a-1", "A_1", "\u05D0", "\u05D1", "A 1 2", "\uD83D\uDD0B"];
        using var report = new WrittenReport(StoryTeller.Tell(null, labels.Select(label => new Story { Label = label, Charges = 0 })));
        Assert.Equal(labels.Length + 1, report.Paths.Select(path => path.ToUpperInvariant()).Distinct().Count());
        Assert.Equal(labels.Length + 1, Directory.GetFiles(report.Folder).Length);
    }

    [Fact]
    public void Any_labels_get_names_that_are_plain_and_all_different() =>
        Gen.String.Array[1, 30].Sample(labels =>
        {
            IReadOnlyList<string> names = PageNames.For(labels);
            return names.Distinct().Count() == labels.Length
                && names.All(name => name.Length <= 50 && name.StartsWith("pack", StringComparison.Ordinal) && name.All(c => c is '-' or (>= 'a' and <= 'z') or (>= '0' and <= '9')));
        });

    [Fact]
    public void The_order_in_which_packs_come_does_not_change_their_names() =>
        Gen.String[Gen.Char["aA1 _-"], 0, 3].Array[1, 12].Sample(labels =>
        {
            string[] distinct = [.. labels.Distinct()];
            string[] turned = [.. distinct.Reverse()];
            return PageNames.For(distinct).SequenceEqual(PageNames.For(turned).Reverse());
        });

    [Fact]
    public void Any_text_comes_back_from_a_page_as_it_went_in() =>
        Gen.String.Sample(text =>
        {
            IDocument page = new HtmlParser(new HtmlParserOptions { IsStrictMode = true }).ParseDocument($"<!DOCTYPE html><html lang=\"en\"><head><title>t</title></head><body><p title=\"{HtmlText.Escape(text)}\">{HtmlText.Escape(text)}</p></body></html>");
            IElement p = page.QuerySelector("p")!;
            return p.TextContent == Shown(text) && p.GetAttribute("title") == Shown(text);
        });

    // What may not stand in an HTML document (HTML Living Standard, 13.1.4 "text": no surrogates, noncharacters or
    // controls other than white space) is shown as U+FFFD.
    private static string Shown(string text)
    {
        var shown = new StringBuilder();
        foreach (Rune rune in text.EnumerateRunes())
        {
            int value = rune.Value;
            bool control = (value < 0x20 && value is not ('\t' or '\n')) || value is >= 0x7F and <= 0x9F;
            bool none = value is >= 0xFDD0 and <= 0xFDEF || (value & 0xFFFE) == 0xFFFE;
            shown.Append(control || none ? "\uFFFD" : rune.ToString());
        }

        return shown.ToString();
    }
}
