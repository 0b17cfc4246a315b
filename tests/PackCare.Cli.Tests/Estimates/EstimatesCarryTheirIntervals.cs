using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;
using PackCare.Cli.Tests.Running;

namespace PackCare.Cli.Tests.Estimates;

/// <summary>
/// On every screen, in every page and in all output for programs, what was estimated carries its 95 % interval and the number of observations.
/// The scanners take every figure for an estimate that is not of a kind they list with the reason why it is none.
/// </summary>
public sealed partial class EstimatesCarryTheirIntervals(DemoFixture demo, WeakPacks weak)
{
    [Theory]
    [InlineData("Cell 4 has 7.40 mOhm at 25 C, from 26 sessions.")]
    [InlineData("Cell 4 has 7.40 (6.72 to 8.08) mOhm at 25 C.")]
    [InlineData("Cell 4 has 7.40 (6.72 to 8.08) mOhm, 2.37 (1.98 to 2.76) times its first sessions' 3.12 mOhm, from 26 sessions.")]
    [InlineData("It holds 3.77 Ah, from 23 sessions.")]
    [InlineData("It holds 3.77 (3.80 to 3.84) Ah, from 23 sessions.")]
    [InlineData("Cell 2 loses 1.47 % of its capacity a week more than the others at rest, in 3 stretches.")]
    [InlineData("Cell 3 is emptier by 3.4 (1.9 to 4.9) % of capacity, about 111 mAh, from 1 reading.")]
    [InlineData("Drift  cell 3 by -0.6 mV in 30 d, n 14")]
    [InlineData("At this rate the act limit is reached on 2027-10-05, by a line through 29 readings.")]
    [InlineData("80 % is expected 2027-10-05 (2027-08-08 to 2027-12-04)")]
    [InlineData("80 % is not within 5 years")]
    [InlineData("Capacity 98 % 96 to 99 %")]
    [InlineData("thought to have cost 0.0 to 0.1 % of capacity")]
    [InlineData("Resistance against its baseline 1.09 \u00D7")]
    public void A_bare_estimate_in_a_text_is_found(string text) => Assert.NotEmpty(TextScanner.Bare(text));

    [Theory]
    [InlineData("Cell 4 has 7.40 (6.72 to 8.08) mOhm at 25 C, 2.37 (1.98 to 2.76) times the 3.12 (2.60 to 3.65) mOhm of its first sessions, from 26 sessions.")]
    [InlineData("80 % is expected 2027-10-05 (2027-08-08 to 2027-12-04), n 29")]
    [InlineData("80 % is expected 2029-11-06 (not before 2026-11-02, perhaps never), n 6")]
    [InlineData("Cells stand 55 mV apart after a completed charge, cell 3 below the others; over 50 mV in 10 readings since 2026-03-04.")]
    [InlineData("Capacity 98 % 96 to 99 %; n = 20")]
    public void What_is_complete_passes(string text) => Assert.Empty(TextScanner.Bare(text));

    [Theory]
    [InlineData("pack  capacity %   n   resistance x\nA     98           20  -")]
    [InlineData("pack  capacity %   n   resistance x\nA     98 (99..97)  20  -")]
    [InlineData("pack  capacity %   n   resistance x\nA     98 (97..99)  -   -")]
    [InlineData("pack  capacity %   resistance x\nA     98 (97..99)  -")]
    [InlineData("pack  fade %\nA     98 (97..99)")]
    public void A_bare_estimate_in_a_table_is_found(string table) => Assert.NotEmpty(TableScanner.Bare(table, "pack"));

    [Theory]
    [InlineData("{\"capacity\":{\"latestAh\":3.7,\"low\":3.6,\"high\":3.8}}")]
    [InlineData("{\"capacity\":{\"latestAh\":3.7,\"count\":3}}")]
    [InlineData("{\"cells\":[{\"ratio\":1.2,\"ratioLow\":1.1,\"ratioHigh\":null,\"ratioCount\":3}]}")]
    [InlineData("{\"chargeOffsetPercent\":[1,2],\"chargeOffsetPercentLow\":[0,1]}")]
    [InlineData("{\"limitReachedUtc\":\"2027-01-01T00:00:00Z\",\"limitReachedLowUtc\":null}")]
    [InlineData("{\"finding\":{\"code\":\"resistance\",\"value\":2.1,\"low\":1.9,\"high\":2.3,\"count\":null}}")]
    [InlineData("{\"brandNewFigure\":1}")]
    public void A_bare_estimate_in_json_is_found(string json) => Assert.NotEmpty(JsonScanner.Bare(JsonDocument.Parse(json).RootElement));

    [Fact]
    public void No_text_of_a_pack_shows_a_bare_estimate()
    {
        foreach ((string label, Func<string[], Outcome> run) in Packs())
        {
            string show = run(["show", label]).Expect(0).Out;
            // The table of cells has its units at its head.
            int cells = show.IndexOf("\ncell  ", StringComparison.Ordinal);
            int after = show.IndexOf("\n\n", cells, StringComparison.Ordinal);
            Empty(TextScanner.Bare(Rows(show[..cells] + show[after..])), "show " + label);
            Empty(TableScanner.Bare(show, "cell  "), "show " + label);
            Empty(TextScanner.Bare(run(["why", label]).Expect(0).Out), "why " + label);
        }
    }

    [Fact]
    public void No_list_shows_a_bare_estimate()
    {
        foreach (Func<string[], Outcome> run in Runs())
        {
            Empty(TextScanner.Bare(run(["due"]).Expect(0).Out), "due");
            Empty(TableScanner.Bare(run(["list", "--all"]).Expect(0).Out, "pack "), "list");
        }

        Empty(TableScanner.Bare(demo.Run("drawn", "Grebe", "--to", "3.5").Expect(0).Out, "session "), "drawn");
    }

    [Fact]
    public void Nothing_for_programs_holds_a_bare_estimate()
    {
        foreach ((string label, Func<string[], Outcome> run) in Packs())
        {
            Empty(JsonScanner.Bare(run(["show", label, "--json"]).Expect(0).Json()), "show " + label);
        }

        Empty([.. demo.Run("why", "Osprey", "--json").Expect(0).Json().GetProperty("reasons").EnumerateArray().SelectMany(reason => TextScanner.Bare(reason.GetString()!))], "why");
        foreach (Func<string[], Outcome> run in Runs())
        {
            Empty([.. run(["list", "--all", "--json"]).Expect(0).JsonLines().Concat(run(["due", "--json"]).Expect(0).JsonLines()).SelectMany(JsonScanner.Bare)], "list, due");
        }

        Empty([.. demo.Run("drawn", "Grebe", "--to", "3.5", "--json").Expect(0).JsonLines().SelectMany(JsonScanner.Bare)], "drawn");
    }

    [Fact]
    public void No_page_of_the_report_shows_a_bare_estimate()
    {
        string folder = weak.NewFolder("report");
        JsonElement data = weak.Run("report", "--out", folder, "--json").Json();

        foreach (string page in Directory.GetFiles(demo.Report, "*.html").Concat(Directory.GetFiles(folder, "*.html")))
        {
            Empty([.. Blocks(File.ReadAllText(page)).SelectMany(TextScanner.Bare)], page);
        }

        Empty(JsonScanner.Bare(data), "report --json");
    }

    [Fact]
    public void Every_list_fits_eighty_columns()
    {
        foreach (Func<string[], Outcome> run in Runs())
        {
            foreach (string command in new[] { "list", "due" })
            {
                Assert.All(run([command]).Expect(0).Out.Split('\n'), line => Assert.True(line.Length <= 80, line));
            }
        }
    }

    private IEnumerable<Func<string[], Outcome>> Runs() => [demo.Run, weak.Run];

    private IEnumerable<(string Label, Func<string[], Outcome> Run)> Packs() =>
        demo.Labels.Select(label => (label, (Func<string[], Outcome>)demo.Run)).Concat(WeakPacks.Labels.Select(label => (label, (Func<string[], Outcome>)weak.Run)));

    private static void Empty(IReadOnlyList<string> bare, string where) => Assert.True(bare.Count == 0, where + ":\n" + string.Join('\n', bare));

    // A row of facts begins at the margin and is its own paragraph; what wraps is indented.
    private static string Rows(string text) => Row().Replace(text, "\n\n$1");

    // Text of paragraphs, cells of tables but for those of numbers behind a chart, titles of drawings.
    private static IEnumerable<string> Blocks(string html)
    {
        string text = AxisMark().Replace(Skipped().Replace(html, " "), " ");
        foreach (Match table in NumbersBehind().Matches(text))
        {
            string[] heads = [.. Heads().Matches(table.Value).Select(head => Plain(head.Groups[1].Value))];
            bool estimates = heads.Any(head => head.StartsWith("Resistance", StringComparison.Ordinal) || head.StartsWith("Capacity", StringComparison.Ordinal));
            bool intervals = heads.Contains("95 % from") && heads.Contains("to");
            yield return estimates && !intervals ? $"{string.Join(", ", heads)}: 1.0 mOhm" : "";
        }

        foreach (string block in Ends().Split(NumbersBehind().Replace(text, " ")))
        {
            yield return Plain(block);
        }
    }

    private static string Plain(string html) => Regex.Replace(WebUtility.HtmlDecode(Tag().Replace(html, " ")), @"\s+", " ").Trim();

    [GeneratedRegex(@"\n(Cells level|Drift|Full|Capacity limit|Capacity|Leads|Usage|Cells? [\d, ]+:)")]
    private static partial Regex Row();

    [GeneratedRegex("<style.*?</style>|<head.*?</head>", RegexOptions.Singleline)]
    private static partial Regex Skipped();

    // The number at the end of an axis, which bears its unit.
    [GeneratedRegex(@"<text[^>]*>[\u2212\d.]+[ \u00A0](?:mV|m\u03A9|Ah)</text>")]
    private static partial Regex AxisMark();

    [GeneratedRegex("<details.*?</details>", RegexOptions.Singleline)]
    private static partial Regex NumbersBehind();

    [GeneratedRegex("<th[^>]*>(.*?)</th>", RegexOptions.Singleline)]
    private static partial Regex Heads();

    [GeneratedRegex("</(?:p|td|th|li|dd|dt|h[1-6]|caption|title|desc|text|figcaption|summary)>")]
    private static partial Regex Ends();

    [GeneratedRegex("<[^>]+>")]
    private static partial Regex Tag();
}
