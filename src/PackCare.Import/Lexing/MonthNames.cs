using System.Globalization;
using System.Text;

namespace PackCare.Import.Lexing;

/// <summary>Rewrites dates whose month is a word into dates whose month is a number.</summary>
internal static class MonthNames
{
    private const int MostBytes = 64;

    // Only names that mean the same month in every language that has them.
    private static readonly Dictionary<string, int> Months = Spell(
        "january jan januar janvier janv enero ene gennaio gen januari jaen janeiro января янв",
        "february feb februar fevrier fevr fev febrero febbraio februari fevereiro feber февраля фев",
        "march mar marz maerz mrz mars marzo maart mrt marco marts марта мар",
        "april apr avril avr abril abr aprile апреля апр",
        "may mai mayo maggio mag mei maio maj мая май",
        "june jun juni juin junio giugno giu junho июня июн",
        "july jul juli juillet juil julio luglio lug julho июля июл",
        "august aug aout aou agosto ago augustus augusti августа авг",
        "september sep sept septembre septiembre settembre setembro set сентября сен",
        "october oct oktober okt octobre octubre ottobre ott outubro out октября окт",
        "november nov novembre noviembre novembro ноября ноя",
        "december dec dezember dez decembre diciembre dic dicembre dezembro desember des декабря дек");

    private static readonly HashSet<string> Weekdays = new(
        ("mon tue wed thu fri sat sun monday tuesday wednesday thursday friday saturday sunday mo di mi do fr sa so montag dienstag mittwoch donnerstag freitag samstag sonntag " +
        "lun mar mer jeu ven sam dim lundi mardi mercredi jeudi vendredi samedi dimanche mie jue vie sab dom lunes martes miercoles jueves viernes sabado domingo gio ma wo vr za zo").Split(' '),
        StringComparer.Ordinal);

    /// <summary>Rewrites <c>25-Nov-2026 10:03</c>, <c>Nov 25, 2026 10:03</c>, <c>2026-Nov-25 10:03</c> or <c>Wed Nov 25 10:03:04 2026</c>.</summary>
    internal static bool TryRewrite(ReadOnlySpan<byte> field, out byte[] rewritten)
    {
        rewritten = [];
        if (field.Length is < 9 or > MostBytes || !HasWordAndDigit(field))
        {
            return false;
        }

        string text = Encoding.UTF8.GetString(field);
        List<(int Start, int End)> words = Runs(text, char.IsLetter);
        int month = 0;
        (int Start, int End) at = default;
        foreach ((int start, int end) in words)
        {
            if (Months.TryGetValue(Fold(text[start..end]), out int named) && end - start >= 3)
            {
                if (month > 0 && !(at.Start == 0 && Weekdays.Contains(Fold(text[at.Start..at.End]))))
                {
                    return false;
                }

                (month, at) = (named, (start, end));
            }
        }

        if (month == 0)
        {
            return false;
        }

        string before = text[..at.Start];
        if (words[0].Start == 0 && words[0].Start < at.Start && Weekdays.Contains(Fold(text[..words[0].End])))
        {
            before = text[words[0].End..at.Start].TrimStart('.', ',').TrimStart();
        }

        string after = text[at.End..];
        string? iso = before.Length > 0 ? AfterNumber(before, month, after) : AfterMonth(month, after);
        rewritten = iso is null ? [] : Encoding.UTF8.GetBytes(iso);
        return iso is not null;
    }

    // 25-Nov-2026 and 2026-Nov-25
    private static string? AfterNumber(string before, int month, string after)
    {
        string first = before.TrimEnd('-', '/', ' ', '.', '\u00A0');
        if (first.EndsWith(" de", StringComparison.Ordinal))
        {
            first = first[..^3];
        }

        string rest = after.TrimStart('-', '/', ' ', '.', ',', '\u00A0');
        int digits = Digits(rest);
        if (!first.All(char.IsAsciiDigit) || before.Length - first.Length > 2 || after.Length - rest.Length > 2 || digits == 0)
        {
            return null;
        }

        return (first.Length, digits) switch
        {
            (1 or 2, 4) => Iso(rest[..4], month, first, rest[4..]),
            (1 or 2, 2) => Iso("20" + rest[..2], month, first, rest[2..]),
            (4, 1 or 2) => Iso(first, month, rest[..digits], rest[digits..]),
            _ => null,
        };
    }

    // Nov 25, 2026 10:03 and Nov 25 10:03:04 2026
    private static string? AfterMonth(int month, string after)
    {
        string rest = after.TrimStart('-', '/', ' ', '.');
        int day = Digits(rest);
        if (day is not (1 or 2))
        {
            return null;
        }

        string tail = rest[day..].TrimStart('-', '/', ' ', ',');
        int year = Digits(tail);
        if (year == 4)
        {
            return Iso(tail[..4], month, rest[..day], tail[4..]);
        }

        int last = tail.LastIndexOf(' ');
        return last > 0 && tail.Length - last == 5 && Digits(tail[(last + 1)..]) == 4 && tail.Contains(':', StringComparison.Ordinal)
            ? Iso(tail[(last + 1)..], month, rest[..day], " " + tail[..last].TrimEnd())
            : null;
    }

    private static string Iso(string year, int month, string day, string rest)
    {
        string clock = rest.TrimStart(',', ' ', '\u00A0', '-', 'T', '_');
        return string.Create(CultureInfo.InvariantCulture, $"{year}-{month:00}-{day.PadLeft(2, '0')}{(clock.Length > 0 ? " " : "")}{clock}");
    }

    private static bool HasWordAndDigit(ReadOnlySpan<byte> field)
    {
        int run = 0;
        bool word = false;
        bool digit = false;
        foreach (byte b in field)
        {
            run = (uint)((b | 0x20) - 'a') < 26 || b >= 0x80 ? run + 1 : 0;
            word |= run >= 3;
            digit |= (uint)(b - '0') < 10;
        }

        return word && digit;
    }

    private static int Digits(string text)
    {
        int count = 0;
        while (count < text.Length && char.IsAsciiDigit(text[count]))
        {
            count++;
        }

        return count;
    }

    private static List<(int Start, int End)> Runs(string text, Func<char, bool> belongs)
    {
        var runs = new List<(int Start, int End)>();
        for (int i = 0; i < text.Length; i++)
        {
            if (belongs(text[i]))
            {
                int start = i;
                while (i < text.Length && belongs(text[i]))
                {
                    i++;
                }

                runs.Add((start, i));
            }
        }

        return runs;
    }

    private static string Fold(string word)
    {
        var folded = new StringBuilder(word.Length);
        foreach (char c in word)
        {
            char lower = char.ToLowerInvariant(c);
            folded.Append(lower switch { 'é' or 'è' or 'ê' => 'e', 'û' or 'ü' or 'ú' => 'u', 'ä' or 'á' or 'à' => 'a', 'ç' => 'c', _ => lower });
        }

        return folded.ToString();
    }

    private static Dictionary<string, int> Spell(params string[] months)
    {
        var names = new Dictionary<string, int>(StringComparer.Ordinal);
        for (int m = 0; m < months.Length; m++)
        {
            foreach (string name in months[m].Split(' '))
            {
                names.Add(name, m + 1);
            }
        }

        return names;
    }
}
