using AngleSharp.Dom;
using PackCare.Analysis.Assessments;
using PackCare.Report.Charts;
using PackCare.Report.Pages;
using PackCare.Report.Tests.Fixtures;

namespace PackCare.Report.Tests;

public sealed class PagesSayWhatIsKnown(WrittenReport report) : IClassFixture<WrittenReport>
{
    [Fact]
    public void The_due_list_comes_before_the_packs_and_the_packs_come_by_urgency()
    {
        IDocument page = report.Page("index.html");
        Assert.Equal(["Due", "Packs, most urgent first", "What is not known", "Whatever the figures say"], page.QuerySelectorAll("h2").Select(heading => heading.TextContent));
        Assert.StartsWith("Grebe 2S", page.QuerySelector(".due .who")!.TextContent, StringComparison.Ordinal);
        Assert.Equal(
            ["stop", "retire", "watch", "watch", "watch", "unknown", "unknown", "sound", "sound", "retire"],
            page.QuerySelectorAll(".packs tbody .word").Select(word => word.TextContent));
        Assert.Equal("Old Swan", page.QuerySelector(".packs tbody tr:last-child th a")!.TextContent);
    }

    [Fact]
    public void A_standing_is_a_word_beside_a_mark_and_sound_promises_nothing()
    {
        IDocument page = report.Page("pack-heron-4s-a.html");
        Assert.Equal("sound: nothing on record speaks against it", page.QuerySelector(".standing")!.TextContent.Trim());
        Assert.NotNull(page.QuerySelector(".standing svg.mark"));
    }

    [Fact]
    public void The_drifting_cell_is_named_with_interval_and_count()
    {
        string answer = Answer("pack-heron-4s-b.html", 0);
        Assert.Matches(@"^Cell 3 drifts down against the others, by \u2212\d\.\d\d\u00A0mV a month \(\u2212[\d.]+ to \u2212[\d.]+; n\u00A0=\u00A020\)\.", answer);
        Assert.Contains("After the last full charge, on 2026-06-01, the cells were 38\u00A0mV apart; the watch limit is 15\u00A0mV.", answer, StringComparison.Ordinal);
        Assert.Contains("cell 3 holds another state of charge", Answer("pack-heron-4s-b.html", 5), StringComparison.Ordinal);
    }

    // Each full charge makes a leaking cell level again, so that rests after one would show nothing.
    [Fact]
    public void A_leaking_cell_is_drawn_by_its_rests_between_charges()
    {
        IDocument page = report.Page("pack-stork-4s.html");
        Assert.Contains("Lines join rests between full charges", page.QuerySelectorAll("figure")[0].TextContent, StringComparison.Ordinal);
        var view = new PackView(StoryTeller.Everything().Packs.Single(pack => pack.Assessment.Pack.Label == "Stork 4S"), TimeSpan.Zero);
        Assert.All(view.Comparable, point => Assert.False(point.AfterFullCharge));
        Assert.All(view.Comparable, point => Assert.Equal(point.Millivolts.Min(), point.Millivolts[2]));
    }

    [Fact]
    public void A_drift_that_is_none_points_at_no_cell()
    {
        IDocument page = report.Page("pack-otter-6s.html");
        Assert.StartsWith("No drift that can be told from none", page.QuerySelectorAll("figcaption p")[0].TextContent, StringComparison.Ordinal);
        Assert.DoesNotContain("heavy line", page.QuerySelectorAll("figure")[0].TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_drift_too_small_to_matter_points_at_no_cell_either()
    {
        // A third of the watch limit of 15 mV a year is 0.29 mV from one charge to the next, three weeks apart.
        Assert.Null(Focus(-0.2));
        Assert.Equal(3, Focus(-0.5));

        static int? Focus(double perCharge)
        {
            ReportPack pack = StoryTeller.Tell(new Story { Label = "One", DriftMillivolts = perCharge, Charges = 60 }, 1);
            Assert.True(Math.Abs(((Trend.Fitted)pack.Assessment.Imbalance.TrendMillivolts).SlopePerDay.Value) > 0);
            return new PackView(pack with { Assessment = pack.Assessment with { Imbalance = pack.Assessment.Imbalance with { Series = [.. pack.Assessment.Imbalance.Series.Take(20)] } } }, TimeSpan.Zero).FocusCell;
        }
    }

    [Fact]
    public void The_cell_that_the_cause_names_is_the_one_pointed_out()
    {
        ReportPack pack = StoryTeller.Tell(new Story { Label = "One" }, 1);
        ImbalanceAssessment imbalance = pack.Assessment.Imbalance with { Cause = ImbalanceCause.SelfDischarge, CauseCell = 2 };
        var view = new PackView(pack with { Assessment = pack.Assessment with { Imbalance = imbalance } }, TimeSpan.Zero);
        Assert.Equal(2, view.FocusCell);
        Assert.StartsWith("Cell 2 stands out: it loses charge while at rest.", PackCharts.Of(view)[0].Answer, StringComparison.Ordinal);
    }

    [Fact]
    public void What_asks_for_the_same_of_the_same_pack_is_one_entry_with_every_reason()
    {
        ReportInput input = StoryTeller.Everything();
        IDocument page = report.Page("index.html");
        Assert.Equal(input.Due.Select(item => (item.PackLabel, item.Urgency, item.Finding.Action)).Distinct().Count(), page.QuerySelectorAll(".due > li").Length);
        Assert.All(input.Due, item => Assert.Contains(Typesetting.Set(item.Finding.Text), page.QuerySelector(".due")!.TextContent, StringComparison.Ordinal));
    }

    [Fact]
    public void A_limit_ahead_is_named_with_its_interval_of_dates()
    {
        Assert.Contains("At this rate it reaches 2.0 times the baseline around 2026-11 (between 2026-09 and 2027-03; n\u00A0=\u00A0", Answer("pack-wader-12s.html", 1), StringComparison.Ordinal);
        Assert.Contains("past the act limit of 2.0", Answer("pack-dipper-3s.html", 1), StringComparison.Ordinal);
    }

    [Fact]
    public void Too_little_data_is_a_sentence_with_what_there_is_and_what_it_takes()
    {
        string answer = Answer("pack-newcomer.html", 0);
        Assert.Contains("Too little data for a trend: 2 of 5 readings", answer, StringComparison.Ordinal);
        Assert.Contains("Newcomer: whether a cell drifts (2 of 5 readings)", report.Page("index.html").QuerySelector(".unknown")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_pack_with_nothing_on_record_gets_six_sentences_and_no_drawing()
    {
        IDocument page = report.Page("pack-never-logged.html");
        Assert.Empty(page.QuerySelectorAll("svg.plot"));
        Assert.Equal(6, page.QuerySelectorAll("figure").Length);
        Assert.All(page.QuerySelectorAll("figcaption p"), answer => Assert.EndsWith(".", answer.TextContent, StringComparison.Ordinal));
        Assert.All(page.QuerySelectorAll(".facts .big").Take(5), figure => Assert.Contains("not known", figure.TextContent, StringComparison.Ordinal));
    }

    [Fact]
    public void Confirmed_and_possible_days_at_full_are_told_apart()
    {
        Assert.Contains("It has been full for 9.0\u00A0days now.", Answer("pack-otter-6s.html", 3), StringComparison.Ordinal);
        Assert.Contains("It has perhaps been full for 2.0\u00A0days now.", Answer("pack-grebe-2s.html", 3), StringComparison.Ordinal);
    }

    [Fact]
    public void An_empty_history_makes_an_overview_that_says_so()
    {
        using var empty = new WrittenReport(StoryTeller.Tell(null));
        IDocument page = empty.Page("index.html");
        Assert.Contains("Nothing is due, as far as the records tell.", page.Body!.TextContent, StringComparison.Ordinal);
        Assert.Contains("No pack is on record yet.", page.Body!.TextContent, StringComparison.Ordinal);
        Assert.Null(page.QuerySelector(".notice"));
    }

    [Theory]
    [InlineData("Cell 4 has 7.28 (6.60 to 7.96) mOhm at 25 C, 2.36 (2.07 to 2.64) times", "Cell 4 has 7.28 (6.60 to 7.96)_m\u03A9 at 25_\u00B0C, 2.36 (2.07 to 2.64) times")]
    [InlineData("0.7 (-1.5 to 2.9) % less, since 2026-03-04", "0.7 (\u22121.5 to 2.9)_% less, since 2026-03-04")]
    [InlineData("the maker's limits; IEC 62133-2; 3 mV", "the maker\u2019s limits; IEC 62133-2; 3_mV")]
    [InlineData("12 sessions as of 2026-10-29", "12 sessions as of 2026-10-29")]
    public void Sentences_are_set_as_in_print(string sentence, string set) =>
        Assert.Equal(set.Replace('_', '\u00A0'), Typesetting.Set(sentence));

    private string Answer(string page, int chart) => report.Page(page).QuerySelectorAll("figcaption p")[chart].TextContent;
}
