using PackCare.Core.Samples;
using PackCare.Import.Text;

namespace PackCare.Import.Lexing;

/// <summary>
/// Reads numbers exactly: into whole units of their own last decimal place, never through a binary fraction and
/// never by a culture. Group separators are accepted only where they stand before exactly three digits each time.
/// </summary>
internal static class NumberLexer
{
    /// <summary>Digits beyond this decimal are rounded; it leaves room for three more when milli-units become units.</summary>
    internal const int KeptDecimals = 12;

    private const int MaxDigits = 18;

    /// <summary>Reads one field.</summary>
    /// <param name="field">UTF-8 bytes; blanks around are allowed.</param>
    /// <param name="mark">The decimal mark, point or comma.</param>
    /// <param name="value">The number times 10^<paramref name="decimals"/>.</param>
    /// <param name="decimals">How many decimals were written.</param>
    internal static NumberShape Read(ReadOnlySpan<byte> field, byte mark, out long value, out int decimals)
    {
        value = 0;
        decimals = 0;
        int at = 0;
        bool negative = false;
        if (field.Length > 0 && field[0] is (byte)'-' or (byte)'+')
        {
            negative = field[0] == '-';
            at = 1;
        }

        int first = at;
        int length = field.Length;
        if (length > MaxDigits)
        {
            return ReadSlowly(field, mark, out value, out decimals);
        }

        long number = 0;
        int markAt = -1;
        for (; at < length; at++)
        {
            uint digit = (uint)(field[at] - '0');
            if (digit <= 9)
            {
                number = (number * 10) + digit;
            }
            else if (field[at] == mark && markAt < 0)
            {
                markAt = at;
            }
            else
            {
                return ReadSlowly(field, mark, out value, out decimals);
            }
        }

        int digits = length - first - (markAt < 0 ? 0 : 1);
        if (digits == 0)
        {
            return ReadSlowly(field, mark, out value, out decimals);
        }

        value = negative ? -number : number;
        if (markAt < 0)
        {
            return NumberShape.Whole;
        }

        decimals = length - markAt - 1;
        if (decimals == 0 || decimals > KeptDecimals)
        {
            return ReadSlowly(field, mark, out value, out decimals);
        }

        int whole = markAt - first;
        return decimals == 3 && whole is >= 1 and <= 3 && field[first] != '0' ? NumberShape.EitherMark : NumberShape.Proof;
    }

    /// <summary>Whether a field stands for "no reading".</summary>
    internal static bool IsMissing(ReadOnlySpan<byte> field)
    {
        field = TextBytes.Trim(field);
        if (field.IsEmpty)
        {
            return true;
        }

        if (field.Length > 7 || field.ContainsAnyInRange((byte)'0', (byte)'9'))
        {
            return false;
        }

        if (field.IndexOfAnyExcept((byte)'-') < 0 || field.IndexOfAnyExcept((byte)'?') < 0)
        {
            return true;
        }

        Span<char> word = stackalloc char[8];
        if (System.Text.Encoding.UTF8.GetChars(field, word) is int length && length > 0)
        {
            ReadOnlySpan<char> text = word[..length];
            foreach (string missing in MissingWords)
            {
                if (text.Equals(missing, StringComparison.OrdinalIgnoreCase))
                {
                    return true;
                }
            }
        }

        return false;
    }

    private static readonly string[] MissingWords =
        ["nan", "n/a", "na", "#n/a", "#na", "null", "nil", "none", "–", "—", "n.a.", "n.v.", "k.a.", "-nan", "#n/v", "(null)", "\u2212"];

    private static NumberShape ReadSlowly(ReadOnlySpan<byte> raw, byte mark, out long value, out int decimals)
    {
        value = 0;
        decimals = 0;
        ReadOnlySpan<byte> field = TextBytes.Trim(raw);
        if (IsMissing(field))
        {
            return NumberShape.Missing;
        }

        bool negative = false;
        if (field[0] is (byte)'-' or (byte)'+')
        {
            negative = field[0] == '-';
            field = field[1..];
        }
        else if (field.StartsWith("\u2212"u8))
        {
            negative = true;
            field = field[3..];
        }

        int power = 0;
        int exponentAt = field.IndexOfAny((byte)'e', (byte)'E');
        bool hasExponent = exponentAt > 0;
        if (hasExponent)
        {
            if (!TryExponent(field[(exponentAt + 1)..], out power))
            {
                return NumberShape.None;
            }

            field = field[..exponentAt];
        }

        if (!TrySplit(field, mark, out ReadOnlySpan<byte> whole, out ReadOnlySpan<byte> fraction, out bool hasMark))
        {
            return NumberShape.None;
        }

        // A mark with nothing after it is what a cut-off number looks like.
        if ((hasMark && fraction.IsEmpty) || fraction.IndexOfAnyExceptInRange((byte)'0', (byte)'9') >= 0)
        {
            return NumberShape.None;
        }

        Span<byte> digits = stackalloc byte[64];
        if (!TryUngroup(whole, mark, digits, out int wholeDigits, out byte group) || (wholeDigits == 0 && fraction.IsEmpty))
        {
            return NumberShape.None;
        }

        if (hasExponent && group != 0)
        {
            return NumberShape.None;
        }

        if (!TryCompose(digits[..wholeDigits], fraction, power, out value, out decimals))
        {
            return NumberShape.None;
        }

        value = negative ? -value : value;
        if (hasExponent)
        {
            return NumberShape.Scientific;
        }

        if (group is (byte)'.' or (byte)',' && !hasMark && wholeDigits <= 6 && whole.IndexOf(group) == whole.LastIndexOf(group))
        {
            return NumberShape.EitherMark;
        }

        if (!hasMark)
        {
            return group is 0 ? NumberShape.Whole : group is (byte)'.' or (byte)',' ? NumberShape.Proof : NumberShape.Whole;
        }

        return group == 0 && fraction.Length == 3 && wholeDigits is >= 1 and <= 3 && digits[0] != '0'
            ? NumberShape.EitherMark
            : NumberShape.Proof;
    }

    private static bool TryExponent(ReadOnlySpan<byte> text, out int power)
    {
        power = 0;
        bool negative = false;
        if (!text.IsEmpty && text[0] is (byte)'-' or (byte)'+')
        {
            negative = text[0] == '-';
            text = text[1..];
        }

        if (text.IsEmpty || text.Length > 3 || text.IndexOfAnyExceptInRange((byte)'0', (byte)'9') >= 0)
        {
            return false;
        }

        foreach (byte b in text)
        {
            power = (power * 10) + (b - '0');
        }

        power = negative ? -power : power;
        return true;
    }

    private static bool TrySplit(ReadOnlySpan<byte> field, byte mark, out ReadOnlySpan<byte> whole, out ReadOnlySpan<byte> fraction, out bool hasMark)
    {
        int at = field.IndexOf(mark);
        hasMark = at >= 0;
        whole = hasMark ? field[..at] : field;
        fraction = hasMark ? field[(at + 1)..] : [];
        return true;
    }

    private static bool TryUngroup(ReadOnlySpan<byte> whole, byte mark, Span<byte> digits, out int count, out byte group)
    {
        count = 0;
        group = 0;
        int sinceGroup = 0;
        while (!whole.IsEmpty)
        {
            byte b = whole[0];
            if (b is >= (byte)'0' and <= (byte)'9')
            {
                if (count == digits.Length)
                {
                    return false;
                }

                digits[count++] = b;
                sinceGroup++;
                whole = whole[1..];
                continue;
            }

            byte found;
            int width;
            if (b != mark && b is (byte)'.' or (byte)',' or (byte)'\'' or (byte)' ')
            {
                (found, width) = (b, 1);
            }
            else if (whole.StartsWith("\u00A0"u8))
            {
                (found, width) = ((byte)' ', 2);
            }
            else if (whole.StartsWith("\u202F"u8) || whole.StartsWith("\u2009"u8))
            {
                (found, width) = ((byte)' ', 3);
            }
            else if (whole.StartsWith("\u2019"u8))
            {
                (found, width) = ((byte)'\'', 3);
            }
            else
            {
                return false;
            }

            bool firstGroup = group == 0;
            if ((!firstGroup && found != group) || (firstGroup ? sinceGroup is < 1 or > 3 : sinceGroup != 3) || (firstGroup && digits[0] == '0'))
            {
                return false;
            }

            group = found;
            sinceGroup = 0;
            whole = whole[width..];
        }

        return group == 0 || sinceGroup == 3;
    }

    private static bool TryCompose(ReadOnlySpan<byte> whole, ReadOnlySpan<byte> fraction, int power, out long value, out int decimals)
    {
        value = 0;
        decimals = 0;
        UInt128 number = 0;
        int digits = 0;
        foreach (byte b in whole)
        {
            if (!TryPush(ref number, ref digits, b))
            {
                return false;
            }
        }

        foreach (byte b in fraction)
        {
            if (!TryPush(ref number, ref digits, b))
            {
                return false;
            }
        }

        int places = fraction.Length - power;
        if (number == 0)
        {
            decimals = Math.Clamp(places, 0, KeptDecimals);
            return true;
        }

        while (places < 0)
        {
            if (digits++ > MaxDigits)
            {
                return false;
            }

            number *= 10;
            places++;
        }

        if (places - KeptDecimals > 40)
        {
            return false;
        }

        while (places > KeptDecimals)
        {
            UInt128 last = number % 10;
            number = (number / 10) + (places == KeptDecimals + 1 && last >= 5 ? UInt128.One : UInt128.Zero);
            places--;
        }

        // Exponents bring decimals that nobody wrote; drop the empty ones.
        while (power != 0 && places > 0 && number % 10 == 0)
        {
            number /= 10;
            places--;
        }

        if (number > long.MaxValue)
        {
            return false;
        }

        value = (long)number;
        decimals = places;
        return value != BlockCodec.Missing;
    }

    private static bool TryPush(ref UInt128 number, ref int digits, byte b)
    {
        if (number != 0 || b != '0')
        {
            digits++;
        }

        if (digits > 36)
        {
            return false;
        }

        number = (number * 10) + (uint)(b - '0');
        return true;
    }
}
