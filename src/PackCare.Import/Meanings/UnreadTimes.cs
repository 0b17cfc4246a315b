using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using PackCare.Import.Lexing;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>
/// Refuses what is a time and was not read as one: dates whose year has two digits, which are three small numbers that could be put together in
/// several ways; dates written as twelve digits; days before a time of day. Another column would be taken for the time, or the file's own date.
/// </summary>
internal static partial class UnreadTimes
{
    private const int MostLooked = 50;

    /// <summary>Refuses a log with a column of them.</summary>
    internal static void Check(LogColumns columns)
    {
        foreach (ColumnRole role in columns.Roles.Where(role => role is { IsUsed: false, Hint.Quantity: Quantity.Date or Quantity.Timestamp, Column: { Shape: ColumnShape.Text, TooManyWords: false, Words.Count: > 1 } }))
        {
            if (OtherForm(role.Column.Words) is int word)
            {
                int? row = LogColumns.FirstRow(role, 1, value => value == word);
                columns.Refuse("time-form", row, role, $"\"{Refusals.Snippet(role.Column.Words[word])}\" among dates of another form, as \"{Refusals.Snippet(role.Column.Words[0])}\"", "write all dates in one form, for instance 2026-03-14");
                return;
            }
        }

        ColumnRole? found = columns.Roles.FirstOrDefault(role => role is { IsUsed: false, Column: { Shape: ColumnShape.Text, Present: > 0, Words.Count: > 0 } }
            && role.Column.Words.Take(MostLooked).All(word => Form().IsMatch(word.Trim())) && (role.Hint.Quantity is Quantity.Date or Quantity.Timestamp or Quantity.Clock or Quantity.Elapsed || IsCalendar(role.Column.Words[0])));
        if (found is null && columns.Roles.FirstOrDefault(IsClockInWords) is { } clock)
        {
            columns.Refuse("time-form", 0, clock, $"\"{Refusals.Snippet(clock.Column.Words[0])}\", which looks like a time, in a form that is not known", "write times as seconds, as 23:01:30 or as 2026-03-14 09:30:00");
            return;
        }

        if (found is null && columns.Roles.FirstOrDefault(AreDateDigits) is { } digits)
        {
            columns.Refuse(
                "time-form", 0, digits, string.Create(CultureInfo.InvariantCulture, $"{digits.Profile!.First:0}, whose digits look like a date with a time of day"),
                "write times as 2026-03-14 09:30:00; if they are seconds, say so in the header: time [s]");
            return;
        }

        if (found is null && columns.Roles.FirstOrDefault(AreDayDigits) is { } day)
        {
            columns.Refuse("time-form", 0, day, string.Create(CultureInfo.InvariantCulture, $"{day.Profile!.First:0} under a header that names a date, in a form that is not known"), "write dates as 2026-03-14");
            return;
        }

        if (found is null && columns.Single(Core.Reading.ColumnMeaning.Date) is not null && columns.Single(Core.Reading.ColumnMeaning.ElapsedTime) is { } time && AreClockDigits(time))
        {
            columns.Refuse("ambiguous-time", 0, time, "numbers beside a date that could be hours, minutes and seconds without colons", "write the time with colons, or state its unit in the header: time [s]");
            return;
        }

        // 25:13.0 beside a date: the hours were lost where a spreadsheet showed minutes, seconds and tenths.
        if (found is null && columns.Single(Core.Reading.ColumnMeaning.Date) is not null && columns.Single(Core.Reading.ColumnMeaning.ClockTime) is { Column: { TimeShape: TimeShape.TwoPart, FractionDigits: > 0 } } torn)
        {
            columns.Refuse("time-form", 0, torn, "times beside a date that have minutes, seconds and a fraction, but no hours", "write them with all three parts, 10:25:13.0");
            return;
        }

        if (found is null && columns.Roles.FirstOrDefault(role => role.Profile is { First: > TimeFinder.UnixFrom, Min: < TimeFinder.UnixFrom / 10 } && role.Hint.Quantity is Quantity.Unknown or Quantity.Elapsed or Quantity.Timestamp or Quantity.Clock or Quantity.Date) is { } reset)
        {
            columns.Refuse("time-backwards", LogColumns.FirstRow(reset, 1, value => value < TimeFinder.UnixFrom / 10), reset, "a time since 1970 that goes on from nought here: the clock was lost", "split the file there, or correct the times");
            return;
        }

        bool isDated = columns.Single(Core.Reading.ColumnMeaning.Timestamp) is not null || columns.Single(Core.Reading.ColumnMeaning.Date) is not null;
        if (found is null && !isDated && columns.Roles.FirstOrDefault(role => role is { IsUsed: false, Column: { Shape: ColumnShape.Text, Present: > 0, Words.Count: > 0 } } && role.Column.Words.Take(MostLooked).All(word => OddDate().IsMatch(word))) is { } odd)
        {
            columns.Refuse("time-form", 0, odd, $"\"{Refusals.Snippet(odd.Column.Words[0])}\", which looks like a date, in a form that is not known", "write dates as 2026-03-14");
            return;
        }

        if (found is null && !isDated && columns.Roles.FirstOrDefault(role => role is { IsUsed: false, Hint: { Quantity: Quantity.Date or Quantity.Timestamp, IsDerived: false } } && IsSomeDate(role)) is { } unknown)
        {
            string shown = unknown.Column.Words.Count > 0 ? unknown.Column.Words[0] : unknown.Profile!.First.ToString("0.00", CultureInfo.InvariantCulture);
            columns.Refuse("time-form", 0, unknown, $"\"{Refusals.Snippet(shown)}\" under a header that names a date, in a form that is not known", "write dates as 2026-03-14");
            return;
        }

        if (found is not null)
        {
            columns.Refuse(
                "time-form", 0, found, $"\"{Refusals.Snippet(found.Column.Words[0])}\", which looks like a date: with a year of two digits it can be read in several ways",
                "write dates with the year first and in full, for instance 2026-03-14 09:30:00");
        }
    }

    // "Sat 01.04.2026", "01 04 2026", and the number 1.04.
    private static bool IsSomeDate(ColumnRole role) => role.Column is { Shape: ColumnShape.Text, Words.Count: > 0 } column ? column.Words.Take(MostLooked).All(word => DayAndMonth().IsMatch(word))
        : role is { Profile: { Count: > 0, Min: > 1, Max: < 32 }, Column.MaxDecimals: 2 } && Array.TrueForAll(LogColumns.Values(role, 0, 1), value => double.IsNaN(value) || Math.Round((value - Math.Truncate(value)) * 100) is >= 1 and <= 12);

    // The first of them that is no date, or whose day stands where the others have the month; null where the first is no date either.
    private static int? OtherForm(IReadOnlyList<string> words)
    {
        int order = 0;
        for (int i = 0; i < words.Count; i++)
        {
            if (!TimeLexer.TryRead(Encoding.UTF8.GetBytes(words[i].Trim()), out TimeToken token) || token.Shape is not (TimeShape.Date or TimeShape.DateAndTime))
            {
                return i == 0 ? null : i;
            }

            int its = token.OrderKnown ? 0 : token.First > 12 ? 1 : token.Second > 12 ? -1 : 0;
            if (its * order < 0)
            {
                return i;
            }

            order = its == 0 ? order : its;
        }

        return null;
    }

    // In every row another one.
    private static bool IsClockInWords(ColumnRole role) => role is { IsUsed: false, Column: { Shape: ColumnShape.Text, Present: > 2, Words.Count: > 0, TooManyWords: var many } } && (many || role.Column.Words.Count * 2 > role.Column.Present)
        && role.Hint.Quantity is Quantity.Unknown or Quantity.Date or Quantity.Timestamp or Quantity.Clock or Quantity.Elapsed && role.Column.Words.Take(MostLooked).All(word => Clock().IsMatch(word));

    // 20260514.
    private static bool AreDayDigits(ColumnRole role) => role is { IsUsed: false, Profile: { Count: > 0, Min: >= 19_900_101, Max: < 22_000_000 }, Column.MaxDecimals: 0, Hint.Quantity: Quantity.Date }
        && Array.TrueForAll(LogColumns.Values(role, 0, 1), value => double.IsNaN(value) || (value % 100 is >= 1 and <= 31 && Math.Floor(value / 100) % 100 is >= 1 and <= 12));

    // 234000.
    private static bool AreClockDigits(ColumnRole role) => role is { Profile: { Min: >= 0, Max: >= 10_000 and < 240_000 }, Column.MaxDecimals: 0, Hint.Unit: Unit.None }
        && Array.TrueForAll(LogColumns.Values(role, 0, 1), value => double.IsNaN(value) || (value % 100 < 60 && Math.Floor(value / 100) % 100 < 60));

    // 202605142307 and 260514230703: numbers, but not ones that go on by their steps over the end of an hour.
    private static bool AreDateDigits(ColumnRole role)
    {
        if (role.Profile is not { Count: > 2, First: >= 1e11 and < 1e12 } || role.Column.MaxDecimals > 0 || role.Hint is not { Unit: Unit.None, Quantity: Quantity.Unknown or Quantity.Date or Quantity.Timestamp or Quantity.Clock or Quantity.Elapsed })
        {
            return false;
        }

        long[] numbers = [.. LogColumns.Values(role, 0, 1).Where(double.IsFinite).Select(value => (long)value)];
        return Array.TrueForAll(numbers, number => IsDate(number, 1) || IsDate(number, 100));

        // Year, month, day, hour, minute; or two digits of the year, and seconds at the end.
        static bool IsDate(long number, long seconds) =>
            number % 100 < 60 && number / seconds % 100 < 60 && number / seconds / 100 % 100 < 24 && number / seconds / 10_000 % 100 is >= 1 and <= 31 && number / seconds / 1_000_000 % 100 is >= 1 and <= 12
                && (seconds > 1 || number / 100_000_000 is >= 1990 and < 2200);
    }

    // A version of a program is written with points as well.
    private static bool IsCalendar(string word)
    {
        Match match = Form().Match(word.Trim());
        return (match.Groups[2].Value != "." || match.Groups[5].Success) && Part(1) <= 31 && Part(3) is >= 1 and <= 31;

        int Part(int group) => int.Parse(match.Groups[group].ValueSpan, CultureInfo.InvariantCulture);
    }

    [GeneratedRegex(@"(?<!\d)\d{1,2}:\d{2}(:\d{2})?(?!\d)", RegexOptions.CultureInvariant)]
    private static partial Regex Clock();

    [GeneratedRegex(@"(?<!\d)\d{1,2}\s*[./\- ]\s*\d{1,2}(?!\d)|(?<!\d)(19|20)\d\d(?!\d)", RegexOptions.CultureInvariant)]
    private static partial Regex DayAndMonth();

    // 2026_04_03, "> 2026-04-03".
    [GeneratedRegex(@"^\W{0,3}(19|20)\d\d[-_./ ](0?[1-9]|1[0-2])[-_./ ](0?[1-9]|[12]\d|3[01])\W{0,3}$", RegexOptions.CultureInvariant)]
    private static partial Regex OddDate();

    [GeneratedRegex(@"^(\d{1,2})([./\- ])(\d{1,2})\2(\d{2})([ T,]+\d.*)?$", RegexOptions.CultureInvariant)]
    private static partial Regex Form();
}
