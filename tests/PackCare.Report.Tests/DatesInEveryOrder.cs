using System.Globalization;
using AngleSharp.Dom;
using CsCheck;
using PackCare.Report.Charts;
using PackCare.Report.Pages;
using PackCare.Report.Tests.Fixtures;

namespace PackCare.Report.Tests;

public class DatesInEveryOrder
{
    private static readonly DateTimeOffset At = new(2026, 3, 4, 18, 5, 0, TimeSpan.Zero);

    [Theory]
    [InlineData(DateOrder.YearFirst, "2026-03-04", "2026-03-04 18:05", "2026-03")]
    [InlineData(DateOrder.DayFirst, "4 Mar 2026", "4 Mar 2026 18:05", "Mar 2026")]
    [InlineData(DateOrder.MonthFirst, "Mar 4, 2026", "Mar 4, 2026 18:05", "Mar 2026")]
    public void A_date_is_written_in_the_order_asked_for(DateOrder order, string day, string moment, string month)
    {
        DateText dates = DateText.In(order);
        Assert.Equal(day, Plain(dates.Day(At, TimeSpan.Zero)));
        Assert.Equal(moment, Plain(dates.Moment(At, TimeSpan.Zero)));
        Assert.Equal(month, Plain(dates.Month(At.DateTime)));
    }

    [Fact]
    public void No_two_days_are_ever_written_alike_nor_read_as_another_in_any_order() =>
        Gen.Select(Gen.Int[0, 60_000], Gen.Enum<DateOrder>()).Sample((number, order) =>
        {
            DateOnly day = new DateOnly(1980, 1, 1).AddDays(number);
            string text = Plain(DateText.In(order).Day(day));
            string[] inUse = ["yyyy-MM-dd", "d MMM yyyy", "MMM d, yyyy", "d.M.yyyy", "d/M/yyyy", "M/d/yyyy", "d-M-yyyy", "M-d-yyyy"];
            List<DateOnly> readings = [];
            foreach (string format in inUse)
            {
                if (DateOnly.TryParseExact(text, format, CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly reading))
                {
                    readings.Add(reading);
                }
            }

            return readings is [var only] && only == day;
        });

    [Theory]
    [InlineData("It was swollen on 2026-09-18.", "It was swollen on 18 Sep 2026.")]
    [InlineData("Between 2026-02 and 2027-11-30, n 14", "Between Feb 2026 and 30 Nov 2027, n 14")]
    [InlineData("IEC 62133-2 and 2026-13-40 and 2026-03-04-1 stay", "IEC 62133-2 and 2026-13-40 and 2026-03-04-1 stay")]
    [InlineData("Schmalstieg 2014, 325-334; 1990-19", "Schmalstieg 2014, 325-334; 1990-19")]
    public void Dates_in_sentences_follow(string sentence, string expected)
    {
        Assert.Equal(expected, Plain(DateText.In(DateOrder.DayFirst).Restate(sentence)));
        Assert.Same(sentence, DateText.In(DateOrder.YearFirst).Restate(sentence));
    }

    [Theory]
    [InlineData(DateOrder.DayFirst, "1 Jun 2026 18:30", "Dates are day, month, year.")]
    [InlineData(DateOrder.MonthFirst, "Jun 1, 2026 18:30", "Dates are month, day, year.")]
    public void A_report_has_no_date_left_in_the_other_order(DateOrder order, string made, string legend)
    {
        using var report = new WrittenReport(StoryTeller.Everything() with { Dates = order });
        foreach (string path in report.Paths)
        {
            IDocument page = WrittenReport.Parse(path);
            string text = Plain(page.DocumentElement.TextContent) + string.Join(' ', page.QuerySelectorAll("[aria-label]").Select(element => Plain(element.GetAttribute("aria-label")!)));
            Assert.DoesNotMatch(@"\b20\d\d-\d\d", text.Replace(page.QuerySelector("style")!.TextContent, "", StringComparison.Ordinal));
            Assert.Contains(made, text, StringComparison.Ordinal);
            Assert.Contains(legend, text, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("2026-01-01", 5, "1 Jan 2026|2 Jan|3 Jan|4 Jan|5 Jan|6 Jan")]
    [InlineData("2026-01-10", 150, "Feb 2026|Mar 2026|Apr 2026|May 2026|Jun 2026")]
    public void Axes_follow(string from, int days, string expected)
    {
        double low = Scale.Day(DateOnly.Parse(from, CultureInfo.InvariantCulture));
        Assert.Equal(expected, Plain(string.Join('|', Scale.Dates(new Span(low, low + days), 7, DateText.In(DateOrder.DayFirst)).Select(mark => mark.Label))));
    }

    private static string Plain(string text) => text.Replace('\u00A0', ' ');
}
