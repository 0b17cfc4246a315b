using System.Globalization;
using System.Text.RegularExpressions;

namespace PackCare.Report.Pages;

/// <summary>Writes dates in the order that the reader chose. Blanks inside a date do not break.</summary>
internal sealed partial class DateText
{
    private static readonly DateText[] All =
    [
        new("yyyy-MM-dd", "yyyy-MM", "MM-dd", "Dates are year-month-day."),
        new("d\u00A0MMM\u00A0yyyy", "MMM\u00A0yyyy", "d\u00A0MMM", "Dates are day, month, year."),
        new("MMM\u00A0d,\u00A0yyyy", "MMM\u00A0yyyy", "MMM\u00A0d", "Dates are month, day, year."),
    ];

    private readonly string _day;
    private readonly string _month;
    private readonly string _dayOfYear;

    private DateText(string day, string month, string dayOfYear, string legend)
    {
        _day = day;
        _month = month;
        _dayOfYear = dayOfYear;
        Legend = legend;
    }

    /// <summary>A sentence that says how dates are to be read.</summary>
    public string Legend { get; }

    /// <summary>The writer of an order.</summary>
    public static DateText In(DateOrder order) => All[(int)order];

    /// <summary>A calendar day.</summary>
    public string Day(DateOnly day) => Write(day.ToDateTime(TimeOnly.MinValue), _day);

    /// <summary>The day of a moment where the clock shows the given offset.</summary>
    public string Day(DateTimeOffset at, TimeSpan offset) => Write(at.ToOffset(offset).DateTime, _day);

    /// <summary>A day and the time of day, by a clock of 24 hours.</summary>
    public string Moment(DateTimeOffset at, TimeSpan offset)
    {
        DateTime local = at.ToOffset(offset).DateTime;
        return Write(local, _day) + Write(local, " HH:mm");
    }

    /// <summary>A month of a year.</summary>
    public string Month(DateTime at) => Write(at, _month);

    /// <summary>A day where the year stands nearby.</summary>
    public string DayOfYear(DateTime at) => Write(at, _dayOfYear);

    /// <summary>A date ahead, no finer than a forecast deserves: a day where the expected date is within three months, a month within two years, else a year.</summary>
    public string Coarse(DateTimeOffset at, DateTimeOffset expected, DateTimeOffset now)
    {
        double days = (expected - now).TotalDays;
        return Write(at.ToOffset(now.Offset).DateTime, days < 92 ? _day : days < 731 ? _month : "yyyy");
    }

    /// <summary>A sentence with ISO dates and months, its dates written in this order instead.</summary>
    public string Restate(string sentence) => this == All[0] ? sentence : IsoDate().Replace(sentence, match =>
        DateTime.TryParseExact(match.Value, ["yyyy-MM-dd", "yyyy-MM"], CultureInfo.InvariantCulture, DateTimeStyles.None, out DateTime day)
            ? Write(day, match.Length > "yyyy-MM".Length ? _day : _month)
            : match.Value);

    private static string Write(DateTime at, string format) => at.ToString(format, CultureInfo.InvariantCulture);

    // Not a part of a longer number or name: IEC 62133-2, 2026-03-04-1.
    [GeneratedRegex(@"(?<![\w-])(19|20|21)\d\d-\d\d(-\d\d)?(?![\w-])")]
    private static partial Regex IsoDate();
}
