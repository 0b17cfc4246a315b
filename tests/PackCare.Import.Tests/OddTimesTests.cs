using System.Globalization;
using PackCare.Core.Reading;

namespace PackCare.Import.Tests;

/// <summary>Times in forms that are seldom and were once taken for others. The logs are invented.</summary>
public class OddTimesTests
{
    private static readonly TimeZoneInfo Berlin = TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin");

    [Fact]
    public void Minutes_and_seconds_go_on_over_the_hour()
    {
        ReadResult result = Logs.ReadText(Log("Time", row => $"{row * 30 / 60 % 60:00}:{row * 30 % 60:00}", 200));

        Assert.Equal(199 * 30, Assert.Single(result.Sessions).Samples.TimeSeconds()[^1]);
    }

    [Fact]
    public void Fourteen_digits_of_a_date_may_have_a_fraction()
    {
        ReadResult result = Logs.ReadText(Log("Timestamp", row => $"202605142307{row / 2:00}.{row % 2 * 5}00", 100));

        Assert.Equal(new DateTimeOffset(2026, 5, 14, 23, 7, 0, TimeSpan.Zero), Assert.Single(result.Sessions).Started);
        Assert.Equal(49.5, result.Sessions[0].Samples.TimeSeconds()[^1]);
    }

    [Theory]
    [InlineData("20260514{0:0000}")]
    [InlineData("260514{0:0000}00")]
    public void Twelve_digits_of_a_date_are_refused(string form)
    {
        ReadResult result = Logs.ReadText(Log("Timestamp", row => string.Format(CultureInfo.InvariantCulture, form, ((20 + (row / 60)) * 100) + (row % 60)), 90));

        Assert.Equal(("time-form", 2), Refusal(result));
    }

    [Theory]
    [InlineData("0d 20:{0:00}:{1:00}")]
    [InlineData("2026-134T20:{0:00}:{1:00}Z")]
    public void A_time_in_words_is_refused_where_another_column_would_pass_for_it(string form)
    {
        string[] rows = [.. Enumerable.Range(0, 60).Select(row => string.Create(CultureInfo.InvariantCulture, $"{row + 1},{string.Format(CultureInfo.InvariantCulture, form, row * 10 / 60, row * 10 % 60)},{(row < 4 ? 0 : 2):F2},{3.7 + (0.001 * row) + (row < 4 ? 0 : 0.03):F3},{3.702 + (0.001 * row) + (row < 4 ? 0 : 0.03):F3}"))];

        ReadResult result = Logs.ReadText(string.Join('\n', rows) + "\n");

        Assert.Equal(("time-form", 1), Refusal(result));
    }

    [Theory]
    [InlineData("Date: 2026-05-14")]
    [InlineData("# date 2026-05-14")]
    [InlineData("Datum: 14.05.2026")]
    public void A_day_above_the_table_is_that_of_its_clock(string line)
    {
        ReadResult result = Logs.ReadText(line + "\n" + Log("Clock", row => $"23:{20 + (row / 6):00}:{row * 10 % 60:00}", 60));

        Assert.Equal(new DateTimeOffset(2026, 5, 14, 23, 20, 0, TimeSpan.Zero), Assert.Single(result.Sessions).Started);
    }

    [Theory]
    [InlineData("Calibration date: 2024-05-14")]
    [InlineData("Firmware date 2024-05-14")]
    public void A_day_of_something_else_is_not(string line)
    {
        ReadResult result = Logs.ReadText(line + "\n" + Log("Clock", row => $"09:{20 + (row / 6):00}:{row * 10 % 60:00}", 60));

        Assert.NotEqual(2024, Assert.Single(result.Sessions).Started.Year);
    }

    // In Berlin clocks were set back at 03:00 on 25 October 2026 (Directive 2000/84/EC: the last Sunday in October, 01:00 UTC).
    [Theory]
    [InlineData(0)]
    [InlineData(25)]
    public void A_clock_that_was_not_set_back_with_the_zones_is_refused(int first)
    {
        ReadResult result = Logs.ReadText(Log("Timestamp", row => $"2026-10-25 {1 + ((55 + first + row) / 60):00}:{(55 + first + row) % 60:00}:00", 120), zone: Berlin);

        Assert.Equal("bad-date", Refusal(result).Code);
        Assert.Contains("set back", result.Problems[0].Found, StringComparison.Ordinal);
    }

    [Fact]
    public void A_log_within_the_hour_that_comes_twice_is_taken_for_the_first_with_a_notice()
    {
        ReadResult result = Logs.ReadText(Log("Timestamp", row => $"2026-10-25 02:{10 + (row / 6):00}:{row * 10 % 60:00}", 60), zone: Berlin);

        Assert.Equal(new DateTimeOffset(2026, 10, 25, 0, 10, 0, TimeSpan.Zero), Assert.Single(result.Sessions).Started);
        Assert.Equal(["doubled-hour"], result.Problems.Select(problem => problem.Code));
    }

    // From 01:50 on, or over the step back, there is no doubt.
    [Theory]
    [InlineData(110, 60)]
    [InlineData(130, 120)]
    public void A_log_that_leaves_that_hour_gets_no_notice(int firstMinute, int rows)
    {
        ReadResult result = Logs.ReadText(Log("Timestamp", row => Clock(firstMinute + row), rows), zone: Berlin);

        Assert.DoesNotContain(result.Problems, problem => problem.Code == "doubled-hour");
        Assert.Equal(60 * (rows - 1), Assert.Single(result.Sessions).Samples.TimeSeconds()[^1]);

        static string Clock(int minute) => minute < 180 ? $"2026-10-25 {minute / 60:00}:{minute % 60:00}:00" : $"2026-10-25 {(minute / 60) - 1:00}:{minute % 60:00}:00";
    }

    // Lisbon keeps UTC+01:00 in May (Directive 2000/84/EC).
    [Theory]
    [InlineData("Time zone: Europe/Lisbon", 1)]
    [InlineData("Timezone;Europe/Lisbon;;", 1)]
    [InlineData("# tz = -05:00", -5)]
    [InlineData("Zeitzone: MESZ", 2)]
    [InlineData("Zeitzone: UTC+2 (Sommerzeit)", 2)]
    [InlineData("UTC offset: +05", 5)]
    [InlineData("All times in UTC.", 0)]
    [InlineData("Start: 2026-05-14 12:00:00 UTC", 0)]
    [InlineData("Start: 2026-05-14T10:00:00Z", 2)]
    [InlineData("Start: 2026-05-14T07:00:01-08:00", -3)]
    public void A_line_above_the_table_may_state_the_zone(string line, int hours)
    {
        ReadResult result = Logs.ReadText(line + "\n" + Log("Timestamp", row => $"2026-05-14 12:{row / 6:00}:{row * 10 % 60:00}", 60), zone: TimeZoneInfo.FindSystemTimeZoneById("Asia/Tokyo"));

        Assert.Equal(new DateTimeOffset(2026, 5, 14, 12, 0, 0, TimeSpan.FromHours(hours)), Assert.Single(result.Sessions).Started);
        Assert.Empty(result.Problems);
    }

    [Theory]
    [InlineData("Time zone: local")]
    [InlineData("Exported: 2026-05-14 10:03:11 UTC")]
    [InlineData("Zone: ")]
    [InlineData("Time is money, UTC is not 5")]
    public void Other_lines_state_none(string line)
    {
        ReadResult result = Logs.ReadText(line + "\n" + Log("Timestamp", row => $"2026-05-14 12:{row / 6:00}:{row * 10 % 60:00}", 60), zone: Berlin);

        Assert.Equal(new DateTimeOffset(2026, 5, 14, 12, 0, 0, TimeSpan.FromHours(2)), Assert.Single(result.Sessions).Started);
        Assert.Empty(result.Problems);
    }

    [Fact]
    public void A_zone_that_is_not_understood_is_told()
    {
        ReadResult result = Logs.ReadText("Time zone: EST\n" + Log("Timestamp", row => $"2026-05-14 12:{row / 6:00}:{row * 10 % 60:00}", 60), zone: Berlin);

        Assert.Equal(["zone-unread"], result.Problems.Select(problem => problem.Code));
        Assert.Contains("EST", result.Problems[0].Found, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Time (UTC)", "Date: 2026-05-14")]
    [InlineData("Clock", "Date: 2026-05-14\nTime zone: UTC")]
    public void A_clock_of_a_stated_zone_is_dated_in_it(string header, string lines)
    {
        ReadResult result = Logs.ReadText(lines + "\n" + Log(header, row => $"23:{20 + (row / 6):00}:{row * 10 % 60:00}", 60), zone: Berlin);

        Assert.Equal(new DateTimeOffset(2026, 5, 14, 23, 20, 0, TimeSpan.Zero), Assert.Single(result.Sessions).Started);
    }

    // Beside a counter of seconds, which is the time then.
    [Theory]
    [InlineData("date;time", "2026-03-{0:00};09:{1:00}:{2:00}", 9)]
    [InlineData("timestamp", "2026-03-{0:00} 09:{1:00}:{2:00}", 9)]
    [InlineData("Datum", "{0:00}.03.2026", 0)]
    public void Dates_beside_seconds_date_each_session(string header, string form, int hour)
    {
        ReadResult result = Logs.ReadText(Log($"{header};elapsed s", row => string.Format(CultureInfo.InvariantCulture, form, row < 40 ? 14 : 19, row % 40 / 6, row % 40 * 10 % 60) + string.Create(CultureInfo.InvariantCulture, $";{row % 40 * 10}"), 80));

        Assert.Equal([new DateTimeOffset(2026, 3, 14, hour, 0, 0, TimeSpan.Zero), new DateTimeOffset(2026, 3, 19, hour, 0, 0, TimeSpan.Zero)], result.Sessions.Select(session => session.Started));
    }

    [Fact]
    public void A_clock_beside_seconds_says_the_hour()
    {
        ReadResult result = Logs.ReadText("Date: 2026-03-14\n" + Log("time of day;elapsed s", row => string.Create(CultureInfo.InvariantCulture, $"09:{20 + (row / 6):00}:{row * 10 % 60:00};{row * 10}"), 60));

        Assert.Equal(new DateTimeOffset(2026, 3, 14, 9, 20, 0, TimeSpan.Zero), Assert.Single(result.Sessions).Started);
    }

    [Fact]
    public void An_open_order_of_day_and_month_is_refused_beside_seconds_as_well() =>
        Assert.Equal(("ambiguous-date", 2), Refusal(Logs.ReadText(Log("date;elapsed s", row => $"03/04/2026;{row * 10}", 60))));

    [Fact]
    public void It_is_not_where_the_start_is_given() =>
        Assert.Equal(Logs.Written, Assert.Single(Logs.ReadText(Log("date;elapsed s", row => $"03/04/2026;{row * 10}", 60), started: Logs.Written).Sessions).Started);

    // A pause of four hours, in minutes that only the counter tells.
    [Fact]
    public void A_pause_is_seen_under_a_unit_that_the_counter_told()
    {
        double charged = 0;
        string[] rows = [.. Enumerable.Range(0, 60).Select(row =>
        {
            bool flows = row % 30 is >= 2 and < 28;
            charged -= flows ? 5.5556 : 0;
            return string.Create(CultureInfo.InvariantCulture, $"{(row / 6.0) + (row < 30 ? 0 : 240):F4},{(flows ? -2000 : 0)},{4100 - (2 * row) - (flows ? 20 : 0)},{4096 - (2 * row) - (flows ? 20 : 0)},{charged:F1}");
        })];

        ReadResult result = Logs.ReadText("time,current mA,cell 1 mV,cell 2 mV,charge mAh\n" + string.Join('\n', rows) + "\n");

        Assert.Equal([30, 30], result.Sessions.Select(session => session.Samples.Count));
    }

    [Fact]
    public void A_log_that_dates_itself_takes_no_other_start()
    {
        var given = new DateTimeOffset(2025, 1, 1, 0, 0, 0, TimeSpan.Zero);
        ReadResult result = Logs.ReadText(Log("Timestamp", row => $"2026-05-14 12:{row / 6:00}:{row * 10 % 60:00}", 60), started: given);

        Assert.Equal(2026, Assert.Single(result.Sessions).Started.Year);
        Assert.Contains(result.Problems, problem => problem.Code == "started-unused");
        Assert.Equal(given, Assert.Single(Logs.ReadText(Log("Time [s]", row => $"{row * 10}", 60), started: given).Sessions).Started);
    }

    [Theory]
    [InlineData("0,00", 4)]
    [InlineData("0,000", 3)]
    public void Decimals_that_a_comma_cut_off_are_no_column(string first, int cells)
    {
        string[] rows = [.. Enumerable.Range(0, 50).Select(row => $"{row * 15},{(row < 3 ? first : string.Create(CultureInfo.InvariantCulture, $"{2 + (row % 2)},{new string('5', first.Length - 2)}"))},{string.Join(',', Enumerable.Range(0, cells).Select(cell => 3700 + (2 * row) + cell))}")];

        ReadResult result = Logs.ReadText(string.Join('\n', rows) + "\n");

        Assert.Equal(("ambiguous-delimiter", 1), Refusal(result));
    }

    [Fact]
    public void A_first_row_that_is_short_is_named_under_the_decimal_mark_that_fits()
    {
        string[] rows = [.. Enumerable.Range(0, 40).Select(row => string.Create(CultureInfo.InvariantCulture, $"{row},{(row < 6 ? 0 : 18.596):F3},{16.14 + (0.01 * row):F2},{4.03 + (0.0025 * row):F2},{4.03 + (0.0025 * row):F2}{(row == 0 ? "" : ",0.000")}"))];

        Assert.Equal(("unexpected-line", 1), Refusal(Logs.ReadText(string.Join('\n', rows) + "\n")));
    }

    [Theory]
    [InlineData("Time (UTC)", 0)]
    [InlineData("time_utc", 0)]
    [InlineData("Time (UTC-05:00)", -5)]
    [InlineData("Zeit (MEZ)", 1)]
    [InlineData("Time GMT+2", 2)]
    public void A_header_may_state_the_zone(string header, int hours)
    {
        ReadResult result = Logs.ReadText(Log(header, row => $"2026-05-14 12:{row / 6:00}:{row * 10 % 60:00}", 60), zone: Berlin);

        Assert.Equal(new DateTimeOffset(2026, 5, 14, 12, 0, 0, TimeSpan.FromHours(hours)), Assert.Single(result.Sessions).Started);
    }

    [Fact]
    public void A_day_and_a_time_on_two_lines_are_one_moment()
    {
        ReadResult result = Logs.ReadText("Date;14.05.2026\nTime;21:07:03\n" + Log("Elapsed [s]", row => $"{row * 10}", 60));

        Assert.Equal(new DateTimeOffset(2026, 5, 14, 21, 7, 3, TimeSpan.Zero), Assert.Single(result.Sessions).Started);
    }

    [Theory]
    [InlineData("20260514;10:{0:00}:{1:00}")]
    [InlineData("2026-05-14;10{0:00}{1:00}")]
    public void Days_and_times_in_bare_digits_are_refused(string form)
    {
        ReadResult result = Logs.ReadText(Log("Date;Time", row => string.Format(CultureInfo.InvariantCulture, form, row * 10 / 60, row * 10 % 60), 60));

        Assert.True(result.Refused);
        Assert.Contains(result.Problems, problem => problem.Code is "time-form" or "ambiguous-time");
    }

    [Fact]
    public void A_counter_that_stands_still_at_rest_is_no_time()
    {
        string[] rows = [.. Enumerable.Range(0, 80).Select(row => string.Create(CultureInfo.InvariantCulture, $"{(row < 6 ? 0 : -5):F2};{4.1 - (0.004 * row):F3};{4.102 - (0.004 * row):F3};{Math.Max(0, row - 5) * 14}"))];

        Assert.True(Logs.ReadText(string.Join('\n', rows) + "\n").Refused);
    }

    [Fact]
    public void A_time_that_goes_on_in_another_unit_is_refused_there()
    {
        ReadResult result = Logs.ReadText(Log("Time [s]", row => $"{(row < 40 ? row * 5 : row * 5000)}", 80));

        Assert.Equal(("ambiguous-time-unit", 42), Refusal(result));
    }

    [Fact]
    public void Hours_and_minutes_are_not_taken_for_minutes_and_seconds_against_a_counter()
    {
        string[] rows = [.. Enumerable.Range(0, 120).Select(row => string.Create(CultureInfo.InvariantCulture, $"{row / 60:00}:{row % 60:00};{(row < 5 ? 0 : 0.3):F2};{3.7 + (0.0004 * row) + (row < 5 ? 0 : 0.004):F3};{3.702 + (0.0004 * row) + (row < 5 ? 0 : 0.004):F3};{Math.Max(0, row - 4.5) * 5:F0}"))];

        Assert.True(Logs.ReadText(string.Join('\n', rows) + "\n").Refused);
    }

    [Fact]
    public void A_clock_that_runs_over_is_told()
    {
        ReadResult result = Logs.ReadText(Log("Time [s]", row => $"{row * 30 % 3600}", 200));

        Assert.Contains(result.Problems, problem => problem.Code == "time-runs-over");
    }

    private static (string Code, int? Line) Refusal(ReadResult result)
    {
        InputProblem refusal = result.Problems.First(problem => problem.Level == ProblemLevel.Refusal);
        return (refusal.Code, refusal.Line);
    }

    private static string Log(string header, Func<int, string> time, int rows) => $"{header};Current [A];Cell 1 [V];Cell 2 [V]\n" + string.Concat(Enumerable.Range(0, rows).Select(row =>
        string.Create(CultureInfo.InvariantCulture, $"{time(row)};{(row < 4 ? 0 : 2):F2};{3.7 + (0.001 * row) + (row < 4 ? 0 : 0.03):F3};{3.702 + (0.001 * row) + (row < 4 ? 0 : 0.03):F3}\n")));
}
