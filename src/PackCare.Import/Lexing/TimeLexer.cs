using PackCare.Import.Text;

namespace PackCare.Import.Lexing;

/// <summary>Reads dates and times as ISO 8601 and everyday practice write them.</summary>
internal static class TimeLexer
{
    private const long Second = 1_000_000_000;

    /// <summary>Reads one field.</summary>
    internal static bool TryRead(ReadOnlySpan<byte> field, out TimeToken token) =>
        TryReadDigits(field, out token) || (MonthNames.TryRewrite(TextBytes.Trim(field), out byte[] rewritten) && TryReadDigits(rewritten, out token));

    private static bool TryReadDigits(ReadOnlySpan<byte> field, out TimeToken token)
    {
        token = new TimeToken { OffsetMinutes = TimeToken.NoOffset };
        ReadOnlySpan<byte> rest = TextBytes.Trim(field);
        if (rest.Length is < 3 or > 48)
        {
            return false;
        }

        if (IsCompact(rest))
        {
            Span<byte> parted = stackalloc byte[rest.Length + 1];
            rest[..8].CopyTo(parted);
            parted[8] = (byte)'T';
            rest[8..].CopyTo(parted[9..]);
            return TryReadDigits(parted, out token);
        }

        bool hasDate = TryDate(ref rest, ref token, out bool compact);
        if (hasDate)
        {
            if (rest.IsEmpty)
            {
                token.Shape = TimeShape.Date;
                return true;
            }

            if (rest[0] is (byte)'T' or (byte)'t' or (byte)'_' or (byte)',' || (compact && rest[0] == '-'))
            {
                rest = TextBytes.Trim(rest[1..]);
            }
            else if (rest[0] == ' ')
            {
                rest = TextBytes.Trim(rest);
            }
            else
            {
                return false;
            }
        }

        if (!TryClock(ref rest, hasDate, ref token, out int parts))
        {
            return false;
        }

        if (!TryHalfDay(ref rest, ref token) || (hasDate && !TryOffset(ref rest, ref token)) || !rest.IsEmpty)
        {
            return false;
        }

        token.Shape = hasDate ? TimeShape.DateAndTime : parts == 3 ? TimeShape.ThreePart : TimeShape.TwoPart;
        return !hasDate || token.Nanoseconds < 86_401 * Second;
    }

    /// <summary>Whether a field is fourteen digits that can be a date and a time of day: <c>20261125100304</c>.</summary>
    internal static bool IsCompact(ReadOnlySpan<byte> field) =>
        field.Length is 14 or (>= 16 and <= 24) && Digits(field) == 14 && (field.Length == 14 || (field[14] is (byte)'.' or (byte)',' && Digits(field[15..]) == field.Length - 15)) && Number(field[..4]) is >= 1990 and <= 2199 && Number(field[4..6]) is >= 1 and <= 12
        && Number(field[6..8]) is >= 1 and <= 31 && Number(field[8..10]) <= 23 && Number(field[10..12]) <= 59 && Number(field[12..14]) <= 59;

    private static int Digits(ReadOnlySpan<byte> text)
    {
        int count = text.IndexOfAnyExceptInRange((byte)'0', (byte)'9');
        return count < 0 ? text.Length : count;
    }

    private static int Number(ReadOnlySpan<byte> digits)
    {
        int number = 0;
        foreach (byte b in digits)
        {
            number = (number * 10) + (b - '0');
        }

        return number;
    }

    private static bool TryDate(ref ReadOnlySpan<byte> rest, ref TimeToken token, out bool compact)
    {
        compact = false;
        int a = Digits(rest);
        if (a == 8 && (rest.Length == 8 || rest[8] is (byte)'T' or (byte)'t' or (byte)'-' or (byte)'_' or (byte)' ') && rest.Length > 8)
        {
            token.Year = Number(rest[..4]);
            token.First = Number(rest[4..6]);
            token.Second = Number(rest[6..8]);
            token.OrderKnown = true;
            if (token.Year is < 1990 or > 2199 || token.First is < 1 or > 12 || token.Second is < 1 or > 31)
            {
                return false;
            }

            compact = true;
            rest = rest[8..];
            return true;
        }

        if (a is not (1 or 2 or 4) || rest.Length <= a || rest[a] is not ((byte)'-' or (byte)'/' or (byte)'.'))
        {
            return false;
        }

        byte separator = rest[a];
        ReadOnlySpan<byte> tail = rest[(a + 1)..];
        int b = Digits(tail);
        if (b is not (1 or 2) || tail.Length <= b || tail[b] != separator)
        {
            return false;
        }

        ReadOnlySpan<byte> last = tail[(b + 1)..];
        if (last.Length > 0 && last[0] == ' ' && separator == '.')
        {
            last = last[1..];
        }

        int c = Digits(last);
        if (c is not (1 or 2 or 4))
        {
            return false;
        }

        int x = Number(rest[..a]);
        int y = Number(tail[..b]);
        int z = Number(last[..c]);
        if (a == 4)
        {
            (token.Year, token.First, token.Second, token.OrderKnown) = (x, y, z, true);
        }
        else if (c == 4)
        {
            (token.Year, token.First, token.Second, token.OrderKnown) = (z, x, y, separator == '.');
            if (token.OrderKnown)
            {
                (token.First, token.Second) = (y, x);
            }
        }
        else if (separator == '.' && a <= 2 && c == 2)
        {
            (token.Year, token.First, token.Second, token.OrderKnown) = (2000 + z, y, x, true);
        }
        else if (separator != '.' && c == 2 && y is > 12 and <= 31 && x <= 12 && z > 12)
        {
            // 10/25/26: the middle can only be the day, and nobody writes the year before it and the month behind.
            (token.Year, token.First, token.Second, token.OrderKnown) = (2000 + z, x, y, true);
        }
        else
        {
            return false;
        }

        bool possible = token.OrderKnown
            ? token.First is >= 1 and <= 12 && token.Second is >= 1 and <= 31
            : token.First is >= 1 and <= 31 && token.Second is >= 1 and <= 31 && (token.First <= 12 || token.Second <= 12);
        if (!possible || token.Year is < 1990 or > 2199)
        {
            return false;
        }

        rest = last[c..];
        return true;
    }

    private static bool TryClock(ref ReadOnlySpan<byte> rest, bool hasDate, ref TimeToken token, out int parts)
    {
        parts = 0;
        int a = Digits(rest);
        if (hasDate && a is 4 or 6 && (rest.Length == a || rest[a] != ':'))
        {
            int hourMinute = Number(rest[..4]);
            int second = a == 6 ? Number(rest[4..6]) : 0;
            token.Nanoseconds = ((((hourMinute / 100) * 60L) + (hourMinute % 100)) * 60 + second) * Second;
            bool sane = hourMinute / 100 <= 24 && hourMinute % 100 <= 59 && second <= 60;
            rest = rest[a..];
            parts = 3;
            return sane && TryFraction(ref rest, ref token);
        }

        if (a is < 1 or > 6 || rest.Length <= a || rest[a] != ':')
        {
            return false;
        }

        long first = Number(rest[..a]);
        rest = rest[(a + 1)..];
        int b = Digits(rest);
        if (b != 2 || (rest[0] - '0') > 5)
        {
            return false;
        }

        long second2 = Number(rest[..2]);
        rest = rest[2..];
        parts = 2;
        if (!rest.IsEmpty && rest[0] == ':')
        {
            int c = Digits(rest[1..]);
            if (c != 2 || Number(rest[1..3]) > 60)
            {
                return false;
            }

            long third = Number(rest[1..3]);
            rest = rest[3..];
            parts = 3;
            token.Nanoseconds = ((((first * 60) + second2) * 60) + third) * Second;
            return (!hasDate || first <= 24) && TryFraction(ref rest, ref token);
        }

        token.Nanoseconds = hasDate ? ((first * 60) + second2) * 60 * Second : ((first * 60) + second2) * Second;
        return (!hasDate || first <= 24) && (hasDate || TryFraction(ref rest, ref token));
    }

    private static bool TryFraction(ref ReadOnlySpan<byte> rest, ref TimeToken token)
    {
        if (rest.IsEmpty || rest[0] is not ((byte)'.' or (byte)',' or (byte)':'))
        {
            return true;
        }

        int digits = Digits(rest[1..]);
        // Behind a colon three digits are milliseconds; two could as well be the seconds of days, hours, minutes and seconds.
        if (digits is < 1 or > 9 || (rest[0] == ':' && digits is not (3 or 6 or 9)))
        {
            return false;
        }

        long fraction = Number(rest[1..(digits + 1)]);
        for (int i = digits; i < 9; i++)
        {
            fraction *= 10;
        }

        token.Nanoseconds += fraction;
        token.FractionDigits = digits;
        rest = rest[(digits + 1)..];
        return true;
    }

    private static bool TryHalfDay(ref ReadOnlySpan<byte> rest, ref TimeToken token)
    {
        ReadOnlySpan<byte> word = TextBytes.Trim(rest);
        if (word.Length < 2 || (word[1] | 0x20) != 'm' || (word[0] | 0x20) is not ('a' or 'p'))
        {
            return true;
        }

        long hour = token.Nanoseconds / (3600 * Second);
        if (hour is < 1 or > 12)
        {
            return false;
        }

        bool afternoon = (word[0] | 0x20) == 'p';
        token.Nanoseconds += ((hour == 12 ? (afternoon ? 0 : -12) : (afternoon ? 12 : 0)) * 3600L) * Second;
        rest = word[2..];
        return true;
    }

    private static bool TryOffset(ref ReadOnlySpan<byte> rest, ref TimeToken token)
    {
        ReadOnlySpan<byte> zone = TextBytes.Trim(rest);
        if (zone.IsEmpty)
        {
            rest = zone;
            return true;
        }

        if (zone.SequenceEqual("Z"u8) || zone.SequenceEqual("z"u8) || zone.SequenceEqual("UTC"u8) || zone.SequenceEqual("GMT"u8))
        {
            token.OffsetMinutes = 0;
            rest = [];
            return true;
        }

        if (zone.StartsWith("UTC"u8) || zone.StartsWith("GMT"u8))
        {
            zone = zone[3..];
        }

        bool negative = zone[0] == '-';
        int sign = negative || zone[0] == '+' ? 1 : zone.StartsWith("\u2212"u8) ? 3 : 0;
        negative |= sign == 3;
        if (sign == 0)
        {
            return false;
        }

        zone = zone[sign..];
        int a = Digits(zone);
        int minutes;
        if (a == 2 && zone.Length == 2)
        {
            minutes = Number(zone) * 60;
        }
        else if (a == 4 && zone.Length == 4)
        {
            minutes = (Number(zone[..2]) * 60) + Number(zone[2..]);
        }
        else if (a is 1 or 2 && zone.Length == a + 3 && zone[a] == ':' && Digits(zone[(a + 1)..]) == 2)
        {
            minutes = (Number(zone[..a]) * 60) + Number(zone[(a + 1)..]);
        }
        else
        {
            return false;
        }

        if (minutes > 14 * 60)
        {
            return false;
        }

        token.OffsetMinutes = negative ? -minutes : minutes;
        rest = [];
        return true;
    }
}
