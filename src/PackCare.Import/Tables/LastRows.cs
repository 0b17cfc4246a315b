using System.Text;
using CsvHelper;
using PackCare.Import.Text;

namespace PackCare.Import.Tables;

/// <summary>The rows right before a last line that no line end closes, as they are written: by them it is told whether that line was cut.</summary>
internal sealed class LastRows
{
    private const int MostRows = 256;
    private const int MostBytes = 1 << 16;

    private readonly List<string> _lines = [];
    private readonly List<string> _fields = [];

    /// <summary>The last field of each row, with its quotes, in order.</summary>
    internal IReadOnlyList<string> Fields => _fields;

    /// <summary>Reads them.</summary>
    /// <param name="text">The log.</param>
    /// <param name="frame">Where its table stands.</param>
    /// <param name="dialect">How it is written.</param>
    /// <param name="end">Where the last line starts, in bytes of the UTF-8 form.</param>
    internal static LastRows Before(LogText text, TableFrame frame, Dialect dialect, long end)
    {
        var rows = new LastRows();
        long from = Math.Max(frame.FirstOffset, end - MostBytes);
        byte[] part = text.Part(from, (int)Math.Max(0, end - from));
        int start = from == frame.FirstOffset ? 0 : part.AsSpan().IndexOfAny((byte)'\n', (byte)'\r') + 1;
        bool malformed = false;
        using var csv = CsvReader.Create(part[start..], CsvBody.Options(dialect.Delimiter, dialect.Quote, frame.HasQuotes, _ => malformed = true));
        while (csv.Read())
        {
            int count = csv.FieldCount;
            int width = Enumerable.Range(0, count).Count(field => !dialect.CollapsesBlanks || !csv.IsEmpty(field));
            if (width == frame.Width && !malformed && csv.RawRecord[0] != '#')
            {
                rows._lines.Add(Form(Encoding.UTF8.GetString(csv.RawRecord)));
                rows._fields.Add(LastField(csv, dialect));
            }

            malformed = false;
        }

        int surplus = Math.Max(0, rows._lines.Count - MostRows);
        rows._lines.RemoveRange(0, surplus);
        rows._fields.RemoveRange(0, surplus);
        return rows;
    }

    /// <summary>The last field of a record, with its quotes.</summary>
    internal static string LastField(CsvReader csv, Dialect dialect)
    {
        int last = csv.FieldCount - 1;
        while (dialect.CollapsesBlanks && last > 0 && csv.IsEmpty(last))
        {
            last--;
        }

        return Encoding.UTF8.GetString(csv.GetRawSpan(last)).Trim();
    }

    /// <summary>Whether a line is written as the rows begin, and ends before they do.</summary>
    internal bool BeginLike(string line)
    {
        string form = Form(line.TrimEnd());
        return form.Length > 0 && _lines.Exists(row => row.Length > form.Length && row.StartsWith(form, StringComparison.Ordinal));
    }

    // Runs of digits are alike, whatever number they make.
    private static string Form(string line)
    {
        var form = new StringBuilder(line.Length);
        foreach (char c in line)
        {
            bool digit = char.IsAsciiDigit(c);
            if (!digit || form.Length == 0 || form[^1] != '0')
            {
                form.Append(digit ? '0' : c);
            }
        }

        return form.ToString();
    }
}
