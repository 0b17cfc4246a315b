using System.Text;

namespace PackCare.Import.Lexing;

/// <summary>A number together with how much was written of it.</summary>
/// <param name="Value">The number.</param>
/// <param name="Digits">How many digits stand before the decimal mark.</param>
/// <param name="Decimals">How many stand behind it.</param>
/// <param name="IsPadded">Whether noughts stand before its first digit.</param>
/// <param name="Exponent">How many digits its exponent has; 0 where there is none.</param>
internal sealed record WrittenNumber(double Value, int Digits, int Decimals, bool IsPadded, int Exponent)
{
    /// <summary>Reads one; null where there is no number.</summary>
    internal static WrittenNumber? Of(string field, byte mark)
    {
        if (NumberLexer.Read(Encoding.UTF8.GetBytes(field), mark, out long value, out int decimals) is NumberShape.None or NumberShape.Missing)
        {
            return null;
        }

        int exponentAt = field.IndexOfAny(['e', 'E']);
        string mantissa = exponentAt < 0 ? field : field[..exponentAt];
        int markAt = mantissa.IndexOf((char)mark, StringComparison.Ordinal);
        string whole = markAt < 0 ? mantissa : mantissa[..markAt];
        string digits = new([.. whole.Where(char.IsAsciiDigit)]);
        return new WrittenNumber(
            value / Math.Pow(10, decimals), digits.Length, markAt < 0 ? 0 : mantissa.Length - markAt - 1, digits is ['0', _, ..],
            exponentAt < 0 ? 0 : field[exponentAt..].Count(char.IsAsciiDigit));
    }
}
