using System.Buffers;
using System.Globalization;
using System.Text;

namespace PackCare.Report.Data;

/// <summary>Writes tables as CSV after RFC 4180, in a way that a spreadsheet program takes for data and never for a formula.</summary>
internal static class CsvText
{
    private static readonly SearchValues<char> Quotable = SearchValues.Create(",;\"\r\n\t ");

    /// <summary>Writes a table.</summary>
    public static void Write(TextWriter writer, DataSheet sheet)
    {
        writer.Write(string.Join(',', sheet.Columns));
        writer.Write('\n');
        foreach (object?[] row in sheet.Rows)
        {
            for (int column = 0; column < row.Length; column++)
            {
                if (column > 0)
                {
                    writer.Write(',');
                }

                writer.Write(Field(row[column]));
            }

            writer.Write('\n');
        }
    }

    /// <summary>One field. Figures are exact (shortest form that reads back the same); what is not known is empty.</summary>
    public static string Field(object? value) => value switch
    {
        null => "",
        double number => double.IsFinite(number) ? number.ToString("R", CultureInfo.InvariantCulture) : "",
        decimal number => number.ToString(CultureInfo.InvariantCulture),
        int number => number.ToString(CultureInfo.InvariantCulture),
        long number => number.ToString(CultureInfo.InvariantCulture),
        bool truth => truth ? "true" : "false",
        DateTimeOffset at => at.ToString("yyyy-MM-dd'T'HH:mm:sszzz", CultureInfo.InvariantCulture),
        DateOnly day => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        string text => Quoted(Harmless(text)),
        _ => throw new ArgumentException($"A table holds a {value.GetType().Name}.", nameof(value)),
    };

    // A text that begins so is taken for a formula by spreadsheet programs, the full-width forms by some; an
    // apostrophe in front makes it plain text. Leading spaces do not hinder them.
    private static string Harmless(string text)
    {
        string start = text.TrimStart(' ', '\u00A0', '\u3000', '\uFEFF', '"', '\'');
        return start.Length > 0 && start[0] is '=' or '+' or '-' or '@' or '\t' or '\r' or '\n' or '\uFF1D' or '\uFF0B' or '\uFF0D' or '\uFF20' or '\u2212'
            ? "'" + text
            : text;
    }

    private static string Quoted(string text)
    {
        if (text.AsSpan().IndexOfAny(Quotable) < 0)
        {
            return text;
        }

        return new StringBuilder(text.Length + 2).Append('"').Append(text.Replace("\"", "\"\"", StringComparison.Ordinal)).Append('"').ToString();
    }
}
