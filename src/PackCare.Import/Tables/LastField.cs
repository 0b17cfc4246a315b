using System.Text;
using PackCare.Import.Lexing;

namespace PackCare.Import.Tables;

/// <summary>
/// Tells whether the last field of a log that ends without a line end is whole. What was cut is the beginning of a value, so it is held
/// against the fields above it: by the way in which they are written, and where that varies by what they hold.
/// </summary>
internal static class LastField
{
    /// <summary>Whether nothing speaks for a cut.</summary>
    /// <param name="field">The field, with its quotes.</param>
    /// <param name="before">The fields above it, in order, with theirs.</param>
    /// <param name="shape">What the column holds.</param>
    /// <param name="dialect">How the log is written.</param>
    internal static bool IsWhole(string field, IReadOnlyList<string> before, ColumnShape shape, Dialect dialect)
    {
        char quote = dialect.Quote;
        if (before.Count == 0 || (field.Length >= 2 && field[0] == quote && field[^1] == quote))
        {
            return true;
        }

        if (before.All(other => other.StartsWith(quote)))
        {
            return false;
        }

        string[] others = [.. before.Select(other => other.Trim(quote))];
        if (NumberLexer.IsMissing(Encoding.UTF8.GetBytes(field)))
        {
            // Nothing at all is also what is left of a value of which nothing was written.
            return field.Length > 0 ? others.Contains(field) : others[^1].Length == 0 || others.Count(other => other.Length == 0) * 2 >= others.Length;
        }

        return shape switch
        {
            ColumnShape.Text => others.Contains(field) || !others.Any(other => other.StartsWith(field, StringComparison.Ordinal)),
            ColumnShape.Time => IsWholeForm(Form(field), [.. others.Select(Form)]),
            ColumnShape.List => IsWholeList(field, others, (byte)dialect.DecimalMark),
            _ => IsWholeNumber(field, others, (byte)dialect.DecimalMark),
        };
    }

    // A time as it is written, whatever its digits; the first of them may be more or fewer.
    private static string Form(string time)
    {
        int first = 0;
        while (first < time.Length && char.IsAsciiDigit(time[first]))
        {
            first++;
        }

        return string.Create(time.Length - first, (time, first), static (form, from) =>
        {
            for (int i = 0; i < form.Length; i++)
            {
                char c = from.time[from.first + i];
                form[i] = char.IsAsciiDigit(c) ? '0' : c;
            }
        });
    }

    // What begins as most others do and ends before them.
    private static bool IsWholeForm(string form, string[] others) =>
        others.Count(other => other.Length > form.Length && other.StartsWith(form, StringComparison.Ordinal)) * 2 <= others.Length;

    // Numbers side by side in one field: where no bracket closes it, the last of them may be cut.
    private static bool IsWholeList(string field, string[] others, byte mark)
    {
        if (!char.IsAsciiDigit(field[^1]))
        {
            return others.Any(other => other.EndsWith(field[^1]));
        }

        return IsWholeNumber(LastNumber(field), [.. others.Select(LastNumber)], mark);
    }

    private static string LastNumber(string list)
    {
        int at = list.Length;
        while (at > 0 && (char.IsAsciiDigit(list[at - 1]) || (list[at - 1] is '.' or ',' && at > 1 && char.IsAsciiDigit(list[at - 2]))))
        {
            at--;
        }

        return list[at..];
    }

    private static bool IsWholeNumber(string field, string[] others, byte mark)
    {
        if (!char.IsAsciiDigit(field[^1]))
        {
            // A unit behind the number, and the field fits its column.
            return true;
        }

        List<WrittenNumber> numbers = [.. others.Select(other => WrittenNumber.Of(other, mark)).OfType<WrittenNumber>()];
        return numbers.Count == 0 || WrittenNumber.Of(field, mark) is not { } number || CutNumber.IsWhole(number, numbers);
    }
}
