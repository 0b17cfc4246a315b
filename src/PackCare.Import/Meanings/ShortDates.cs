using System.Globalization;
using System.Text.RegularExpressions;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Refuses dates whose year has two digits: three small numbers that could be put together in several ways.</summary>
internal static partial class ShortDates
{
    private const int MostLooked = 50;

    /// <summary>Refuses a log with a column of them.</summary>
    internal static void Check(LogColumns columns)
    {
        ColumnRole? found = columns.Roles.FirstOrDefault(role => role is { IsUsed: false, Column: { Shape: ColumnShape.Text, Present: > 0, Words.Count: > 0 } }
            && role.Column.Words.Take(MostLooked).All(word => Form().IsMatch(word.Trim())) && (role.Hint.Quantity is Quantity.Date or Quantity.Timestamp or Quantity.Clock or Quantity.Elapsed || IsCalendar(role.Column.Words[0])));
        if (found is not null)
        {
            columns.Refuse(
                "time-form", 0, found, $"\"{Refusals.Snippet(found.Column.Words[0])}\", which looks like a date: with a year of two digits it can be read in several ways",
                "write dates with the year first and in full, for instance 2026-03-14 09:30:00");
        }
    }

    // A version of a program is written with points as well.
    private static bool IsCalendar(string word)
    {
        Match match = Form().Match(word.Trim());
        return (match.Groups[2].Value != "." || match.Groups[5].Success) && Part(1) <= 31 && Part(3) is >= 1 and <= 31;

        int Part(int group) => int.Parse(match.Groups[group].ValueSpan, CultureInfo.InvariantCulture);
    }

    [GeneratedRegex(@"^(\d{1,2})([./\- ])(\d{1,2})\2(\d{2})([ T,]+\d.*)?$", RegexOptions.CultureInvariant)]
    private static partial Regex Form();
}
