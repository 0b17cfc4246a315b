using System.Text;
using System.Text.RegularExpressions;
using PackCare.Import.Lexing;

namespace PackCare.Import.Sessions;

/// <summary>Finds a session's start and pack in what stands around the table.</summary>
internal static partial class StartFinder
{
    private static readonly string[] StartWords = ["start", "begin", "beginn", "begonnen", "date", "datum", "fecha", "data", "time", "zeit", "logged", "recorded", "debut", "inicio", "inizio", "created", "erstellt", "aufgezeichnet", "day", "tag"];

    private static readonly string[] FillWords = ["of", "the", "log", "session", "started", "on", "at", "am", "der", "des", "du", "de", "del", "messung", "aufzeichnung", "local", "test"];

    private static readonly string[] PackWords = ["pack", "battery", "akku", "batterie", "bateria", "batteria", "batería", "accu", "label", "bezeichnung", "akumulator", "batteri", "akkupack", "pack name", "battery name", "akkuname"];

    /// <summary>A date and time in the lines around the table.</summary>
    internal static bool TryLines(IEnumerable<string> lines, out TimeToken token)
    {
        token = default;
        bool found = false;
        long? clock = null;
        foreach (string line in lines)
        {
            string text = line.TrimStart('#', '/', '%', ';', ' ', '\t', '"').Trim();
            if (!StartWords.Any(word => text.Contains(word, StringComparison.OrdinalIgnoreCase)))
            {
                continue;
            }

            if (clock is null && ClockOnly().Match(text) is { Success: true } match && IsAboutTheLog(text) && TimeLexer.TryRead(Encoding.UTF8.GetBytes(match.Groups[1].Value), out TimeToken time) && time.Shape == TimeShape.ThreePart)
            {
                clock = time.Nanoseconds;
                continue;
            }

            foreach (string candidate in Candidates(text))
            {
                if (TimeLexer.TryRead(Encoding.UTF8.GetBytes(candidate), out TimeToken read) && (read.Shape == TimeShape.DateAndTime || (read.Shape == TimeShape.Date && !found && IsAboutTheLog(text))) && (read.OrderKnown || read.First == read.Second || read.First > 12 || read.Second > 12))
                {
                    if (!found || token.Shape == TimeShape.Date || text.Contains("start", StringComparison.OrdinalIgnoreCase) || text.Contains("beg", StringComparison.OrdinalIgnoreCase))
                    {
                        token = read;
                        found = true;
                    }

                    break;
                }
            }
        }

        // The day on one line, the time of day on another.
        if (found && token.Shape == TimeShape.Date && clock is { } ofDay)
        {
            token.Nanoseconds = ofDay;
            token.Shape = TimeShape.DateAndTime;
        }

        return found;
    }

    [GeneratedRegex(@"^[^0-9]*?(\d{1,2}:\d{2}:\d{2})[^0-9]*$", RegexOptions.CultureInvariant)]
    private static partial Regex ClockOnly();

    // "Date: 2026-05-14", and no date of a calibration or a purchase.
    private static bool IsAboutTheLog(string text)
    {
        int digit = text.IndexOfAny(['0', '1', '2', '3', '4', '5', '6', '7', '8', '9']);
        string[] words = text[..digit].Split([' ', ':', '=', ';', ',', '\t', '|', '"', '(', ')'], StringSplitOptions.RemoveEmptyEntries);
        return words.Length > 0 && Array.TrueForAll(words, word => StartWords.Contains(word.ToLowerInvariant()) || FillWords.Contains(word.ToLowerInvariant()));
    }

    /// <summary>A date, perhaps with a time, in a file's name.</summary>
    internal static bool TryName(string name, out TimeToken token)
    {
        token = default;
        string stem = name;
        for (int at = 0; at < stem.Length; at++)
        {
            if (!char.IsAsciiDigit(stem[at]) || (at > 0 && char.IsAsciiDigit(stem[at - 1])))
            {
                continue;
            }

            if (TryDateAt(stem, at, out token))
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>The date and time of a token whose order of day and month is known or can be told.</summary>
    internal static DateTime Local(TimeToken token)
    {
        bool monthFirst = token.OrderKnown || (token.First <= 12 && token.Second > 12);
        return new DateTime(token.Year, monthFirst ? token.First : token.Second, monthFirst ? token.Second : token.First, 0, 0, 0, DateTimeKind.Unspecified).AddTicks(token.Nanoseconds / 100);
    }

    /// <summary>What the lines before the table call the pack, or null.</summary>
    internal static string? PackName(IEnumerable<string> lines)
    {
        foreach (string line in lines)
        {
            string text = line.TrimStart('#', '/', '%', ' ', '\t').Trim().Trim('"');
            int separator = text.IndexOfAny([':', '=', ';', ',', '\t', '|']);
            if (separator <= 0)
            {
                continue;
            }

            string key = text[..separator].Trim().Trim('"');
            string value = text[(separator + 1)..].Trim().Trim(';', ',', '\t', '|').Trim().Trim('"').Trim();
            if (value.Length is 0 or > 80 || value.Contains('\ufffd', StringComparison.Ordinal))
            {
                continue;
            }

            if (PackWords.Contains(key, StringComparer.OrdinalIgnoreCase) && value.Any(char.IsLetter) && value.IndexOfAny([';', '\t', '|']) < 0)
            {
                return value;
            }
        }

        return null;
    }

    private static IEnumerable<string> Candidates(string text)
    {
        for (int at = 0; at < text.Length; at++)
        {
            if (!char.IsAsciiDigit(text[at]) || (at > 0 && char.IsAsciiDigit(text[at - 1])))
            {
                continue;
            }

            for (int end = Math.Min(text.Length, at + 40); end > at + 9; end--)
            {
                yield return text[at..end].TrimEnd(';', ',', '"', '\t', ' ', '|');
            }
        }
    }

    // 2025-10-14T1630, 20251014-163000, 2025-10-14_16-30-05, 2025-10-14
    private static bool TryDateAt(string text, int at, out TimeToken token)
    {
        token = default;
        string digits = new([.. text.Skip(at).Take(40)]);
        int position;
        int year, month, day;
        if (digits.Length >= 10 && Number(digits, 0, 4, out year) && digits[4] is '-' or '_' or '.' && Number(digits, 5, 2, out month) && digits[7] == digits[4] && Number(digits, 8, 2, out day))
        {
            position = 10;
        }
        else if (digits.Length >= 8 && Number(digits, 0, 4, out year) && Number(digits, 4, 2, out month) && Number(digits, 6, 2, out day) && (digits.Length == 8 || !char.IsAsciiDigit(digits[8])))
        {
            position = 8;
        }
        else
        {
            return false;
        }

        if (year is < 1990 or > 2199 || month is < 1 or > 12 || day < 1 || day > DateTime.DaysInMonth(year, month))
        {
            return false;
        }

        token = new TimeToken { Shape = TimeShape.Date, Year = year, First = month, Second = day, OrderKnown = true, OffsetMinutes = TimeToken.NoOffset };
        if (position < digits.Length - 4 && digits[position] is 'T' or 't' or '-' or '_' or ' ')
        {
            string rest = digits[(position + 1)..];
            int hour;
            int minute = 0;
            int second = 0;
            int used = 0;
            if (Number(rest, 0, 2, out hour) && Number(rest, 2, 2, out minute))
            {
                used = Number(rest, 4, 2, out second) ? 6 : 4;
            }
            else if (Number(rest, 0, 2, out hour) && rest.Length >= 5 && rest[2] is '-' or '_' or '.' or 'h' or ':' && Number(rest, 3, 2, out minute))
            {
                used = rest.Length >= 8 && rest[5] is '-' or '_' or '.' or ':' && Number(rest, 6, 2, out second) ? 8 : 5;
            }

            if (used > 0 && hour <= 23 && minute <= 59 && second <= 59 && (used == rest.Length || !char.IsAsciiDigit(rest[used])))
            {
                token.Shape = TimeShape.DateAndTime;
                token.Nanoseconds = ((((hour * 60L) + minute) * 60) + second) * 1_000_000_000;
                if (used < rest.Length && rest[used] == 'Z')
                {
                    token.OffsetMinutes = 0;
                }
            }
        }

        return true;
    }

    private static bool Number(string text, int at, int count, out int number)
    {
        number = 0;
        if (text.Length < at + count)
        {
            return false;
        }

        for (int i = at; i < at + count; i++)
        {
            if (!char.IsAsciiDigit(text[i]))
            {
                return false;
            }

            number = (number * 10) + (text[i] - '0');
        }

        return true;
    }
}
