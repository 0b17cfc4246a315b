using System.Globalization;
using System.Text;
using PackCare.Import.Lexing;
using PackCare.Import.Meanings;
using PackCare.Import.Text;

namespace PackCare.Import.Tables;

/// <summary>A column whose fields hold several numbers each: <c>[3.701, 3.702]</c>.</summary>
internal sealed class ListColumn
{
    private static readonly char[] Separators = [';', '/', '|', ',', ' '];

    private readonly ListForm _form;
    private readonly byte _mark;
    private readonly byte[] _unit;

    internal ListColumn(int index, ListForm form, byte mark, string? header, string? unitField)
    {
        _form = form;
        _mark = mark;
        _unit = UnitSuffix.Bytes(form.Unit) ?? [];
        HeaderHint hint = HeaderWords.Read(header, unitField ?? (header is null || HeaderWords.Read(header, null).Unit == Unit.None ? form.Unit : null));
        string? unit = UnitMarks.Symbol(hint.Unit);
        string? name = hint.Quantity switch
        {
            Quantity.Voltage or Quantity.CellNumber => "cell",
            Quantity.Temperature => "temperature",
            Quantity.Resistance => "cell resistance",
            _ => null,
        };
        Parts = [.. Enumerable.Range(1, form.Count).Select(n => new RawColumn(
            index, ColumnShape.Number, mark, header is null && form.Unit is null ? null : name is null ? header : $"{name} {n}{(unit is null ? "" : $" [{unit}]")}", null))];
    }

    /// <summary>One column for each number of a field.</summary>
    internal RawColumn[] Parts { get; }

    /// <summary>How a field holds several numbers, or null if it does not.</summary>
    internal static ListForm? FormOf(string field, byte mark)
    {
        string inner = field.Trim().Trim('[', ']', '(', ')', '{', '}', '<', '>').Trim();
        foreach (char separator in Separators)
        {
            // Between decimal commas a comma separates only with a blank behind it.
            string text = separator == ',' && mark == ',' ? inner.Replace(", ", "\u0001", StringComparison.Ordinal) : inner;
            string[] parts = text.Split(separator == ',' && mark == ',' ? '\u0001' : separator, separator == ' ' ? StringSplitOptions.RemoveEmptyEntries : StringSplitOptions.None);
            if (parts.Length >= 2 && PlainForm(parts, separator, mark) is { } form)
            {
                return form;
            }
        }

        // One cell alone is a list only for its brackets.
        return field.Trim() is ['[', _, .., ']'] && AreCells([inner], mark) ? new ListForm(Separators[0], 1) : null;
    }

    /// <summary>Whether a field could be taken in.</summary>
    internal bool Fits(ReadOnlySpan<byte> field) => NumberLexer.IsMissing(field) || FormOf(Encoding.UTF8.GetString(Unslashed(field)), _mark) == _form;

    /// <summary>Takes in one field.</summary>
    internal void Accept(ReadOnlySpan<byte> field, int line)
    {
        if (NumberLexer.IsMissing(field))
        {
            foreach (RawColumn part in Parts)
            {
                part.Accept([], line);
            }

            return;
        }

        ReadOnlySpan<byte> inner = TextBytes.Trim(field);
        bool opens = inner[0] is (byte)'[' or (byte)'(' or (byte)'{' or (byte)'<';
        bool closes = inner[^1] is (byte)']' or (byte)')' or (byte)'}' or (byte)'>';
        if (opens != closes)
        {
            Fail(field, line);
            return;
        }

        if (opens)
        {
            inner = TextBytes.Trim(inner[1..^1]);
        }

        inner = Unslashed(inner);
        Span<Range> ranges = stackalloc Range[Parts.Length + 1];
        int count = 0;
        int start = 0;
        for (int i = 0; i <= inner.Length; i++)
        {
            bool ends = i == inner.Length || (inner[i] == _form.Separator && (_form.Separator != ',' || _mark != ',' || (i + 1 < inner.Length && inner[i + 1] == ' ')));
            if (!ends)
            {
                continue;
            }

            if (_form.Separator != ' ' || i > start)
            {
                if (count == ranges.Length)
                {
                    break;
                }

                ranges[count++] = start..i;
            }

            start = i + 1;
        }

        if (count != Parts.Length)
        {
            Fail(field, line);
            return;
        }

        for (int p = 0; p < count; p++)
        {
            ReadOnlySpan<byte> part = TextBytes.Trim(inner[ranges[p]]);
            if (TryStrip(ref part, p))
            {
                Parts[p].Accept(part, line);
            }
            else
            {
                Parts[p].Reject(field, line);
            }
        }
    }

    // "n/a" between slashes is one reading that is not there.
    private ReadOnlySpan<byte> Unslashed(ReadOnlySpan<byte> field) => _form.Separator == '/' && field.IndexOf("n/a"u8) >= 0
        ? Encoding.UTF8.GetBytes(Encoding.UTF8.GetString(field).Replace("n/a", "-", StringComparison.Ordinal))
        : field;

    private bool TryStrip(ref ReadOnlySpan<byte> part, int place)
    {
        if (_form.First is int first)
        {
            int sign = part.IndexOf((byte)_form.Sign);
            if (sign < 0 || !int.TryParse(part[..sign], NumberStyles.None, CultureInfo.InvariantCulture, out int number) || number != first + place)
            {
                return false;
            }

            part = TextBytes.Trim(part[(sign + 1)..]);
        }

        return _form.Unit is null || NumberLexer.IsMissing(part) || UnitSuffix.TryStrip(ref part, _unit);
    }

    // Each may have its number before it, counted up from 0 or 1, and one unit behind it.
    private static ListForm? PlainForm(string[] parts, char separator, byte mark)
    {
        // "4.117 ?" is one damaged number.
        if (separator == ' ' && parts.Count(part => part.Any(char.IsAsciiDigit)) < 2)
        {
            return null;
        }

        if (AreCells(parts, mark))
        {
            return new ListForm(separator, parts.Length);
        }

        parts = [.. parts.Select(part => part.Trim())];
        int? first = null;
        char sign = ':';
        if (parts[0].IndexOfAny([':', '=']) is > 0 and var at && int.TryParse(parts[0].AsSpan(0, at), NumberStyles.None, CultureInfo.InvariantCulture, out int number) && number <= 1)
        {
            (first, sign) = (number, parts[0][at]);
            for (int i = 0; i < parts.Length; i++)
            {
                string before = string.Create(CultureInfo.InvariantCulture, $"{number + i}{sign}");
                if (!parts[i].StartsWith(before, StringComparison.Ordinal))
                {
                    return null;
                }

                parts[i] = parts[i][before.Length..].Trim();
            }
        }

        string? unit = null;
        for (int i = 0; i < parts.Length; i++)
        {
            if (UnitSuffix.TrySplit(parts[i], out string value, out string one))
            {
                if (one != (unit ?? one) || one is not ("V" or "mV"))
                {
                    return null;
                }

                (unit, parts[i]) = (one, value.Trim());
            }
        }

        return AreCells(parts, mark) ? new ListForm(separator, parts.Length, first, sign, unit) : null;
    }

    private void Fail(ReadOnlySpan<byte> field, int line)
    {
        foreach (RawColumn part in Parts)
        {
            part.Reject(field, line);
        }
    }

    // Only what can be cell voltages, all of them in V or all in mV: else the pieces that a wrong delimiter leaves would pass for lists.
    private static bool AreCells(string[] parts, byte mark)
    {
        bool inVolts = true;
        bool inMillivolts = true;
        bool hasDecimals = false;
        bool any = false;
        Span<byte> bytes = stackalloc byte[96];
        foreach (string part in parts)
        {
            if (part.Length > 32 || !Encoding.UTF8.TryGetBytes(part, bytes, out int length))
            {
                return false;
            }

            NumberShape shape = NumberLexer.Read(bytes[..length], mark, out long value, out int decimals);
            if (shape == NumberShape.None)
            {
                return false;
            }

            if (shape != NumberShape.Missing)
            {
                double number = value / Math.Pow(10, decimals);
                any = true;
                hasDecimals |= decimals > 0;
                inVolts &= number is >= 0.3 and <= 5.5;
                inMillivolts &= decimals <= 1 && number is >= 300 and <= 5500;
            }
        }

        return any && ((inVolts && hasDecimals) || inMillivolts);
    }
}
