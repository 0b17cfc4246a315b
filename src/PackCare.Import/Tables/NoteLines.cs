using System.Text;
using PackCare.Import.Text;

namespace PackCare.Import.Tables;

/// <summary>The lines of a record that goes on in the lines below within quotes, as RFC 4180 (section 2, rule 6) has it: a note with line breaks.</summary>
internal static class NoteLines
{
    /// <summary>The longest such record, in bytes: what is longer is a quote that nobody closed.</summary>
    internal const int MaxRecordBytes = 1 << 14;

    /// <summary>With so many values in their places, a line is a row and no note.</summary>
    internal const int ValuesOfRow = 2;

    /// <summary>How many lines a record has after its first.</summary>
    internal static int Count(ReadOnlySpan<byte> record) => record.IndexOfAny((byte)'\n', (byte)'\r') < 0 ? 0 : Of(record).Length;

    /// <summary>The lines of a record after its first.</summary>
    internal static string[] Of(ReadOnlySpan<byte> record) => Encoding.UTF8.GetString(TextBytes.TrimLine(record)).Replace("\r\n", "\n", StringComparison.Ordinal).Replace('\r', '\n').Split('\n')[1..];
}
