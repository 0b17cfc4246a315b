using System.Text;
using PackCare.Import.Text;

namespace PackCare.Import.Lexing;

/// <summary>Finds the unit that a log writes behind a number: <c>3.701 V</c>.</summary>
internal static class UnitSuffix
{
    // With their capitals: 4S is no time, 1C no temperature, though 25 C and 24.3C are.
    private static readonly HashSet<string> Units = new(
        ["V", "mV", "Volt", "Volts", "volt", "volts", "A", "mA", "Amp", "Amps", "amps", "Ah", "mAh", "Wh", "mWh", "W", "mW", "°C", "ºC", "℃", "degC", "deg C", "degF", "°F", "ºF", "K", "Ω", "\u2126", "mΩ", "m\u2126", "Ohm", "ohm", "mOhm", "mohm", "s", "sec", "ms", "min", "h", "%"],
        StringComparer.Ordinal);

    /// <summary>Splits a field into its number and the unit behind it.</summary>
    /// <param name="field">The field.</param>
    /// <param name="number">What stands before the unit.</param>
    /// <param name="unit">The unit as written.</param>
    internal static bool TrySplit(string field, out string number, out string unit)
    {
        string text = field.Trim().Trim('\u202F');
        int at = text.Length;
        while (at > 0 && !char.IsAsciiDigit(text[at - 1]))
        {
            at--;
        }

        if (at == text.Length)
        {
            (number, unit) = (text, "");
            return false;
        }

        number = text[..at];
        unit = text[at..].TrimStart(' ', '\u00A0', '\u202F', '\u2009');
        return at > 0 && unit.Length > 0 && (Units.Contains(unit) || (unit is "C" or "F" && (!char.IsAsciiLetter(text[at]) || text.AsSpan(0, at) is [.., >= '0' and <= '9', '.' or ',', >= '0' and <= '9'])));
    }

    /// <summary>Takes one unit off a field; false where another stands there, or none.</summary>
    internal static bool TryStrip(ref ReadOnlySpan<byte> field, ReadOnlySpan<byte> unit)
    {
        ReadOnlySpan<byte> text = TextBytes.Trim(field);
        if (!text.EndsWith(unit) || text.Length == unit.Length)
        {
            return NumberLexer.IsMissing(text);
        }

        text = TextBytes.Trim(text[..^unit.Length]);
        if (text.EndsWith("\u202F"u8) || text.EndsWith("\u2009"u8))
        {
            text = text[..^3];
        }

        field = text;
        return text[^1] is >= (byte)'0' and <= (byte)'9';
    }

    /// <summary>The bytes of a unit as written.</summary>
    internal static byte[]? Bytes(string? unit) => unit is null ? null : Encoding.UTF8.GetBytes(unit);
}
