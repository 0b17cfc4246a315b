using System.Buffers;

namespace PackCare.Import.Text;

/// <summary>Bytes that have a part of their own in text.</summary>
internal static class TextBytes
{
    /// <summary>Control bytes that no text has: all but NUL (told apart before), tab, line ends, form feed and the old end-of-file mark.</summary>
    internal static readonly SearchValues<byte> Controls = SearchValues.Create(
        [1, 2, 3, 4, 5, 6, 7, 8, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 27, 28, 29, 30, 31, 127]);

    /// <summary>The five bytes that Windows-1252 leaves undefined.</summary>
    internal static readonly SearchValues<byte> UndefinedInWindows1252 = SearchValues.Create([0x81, 0x8D, 0x8F, 0x90, 0x9D]);

    /// <summary>Removes what a line may begin or end with besides blanks: a form feed, and the old end-of-file mark. Within a row either has taken a digit's place.</summary>
    internal static ReadOnlySpan<byte> TrimLine(ReadOnlySpan<byte> line)
    {
        line = Trim(line);
        while (!line.IsEmpty && line[0] is 0x0C or 0x1A)
        {
            line = Trim(line[1..]);
        }

        while (!line.IsEmpty && line[^1] is 0x0C or 0x1A)
        {
            line = Trim(line[..^1]);
        }

        return line;
    }

    /// <summary>Removes blanks, tabs and no-break spaces at both ends.</summary>
    internal static ReadOnlySpan<byte> Trim(ReadOnlySpan<byte> field)
    {
        while (!field.IsEmpty)
        {
            if (field[0] is (byte)' ' or (byte)'\t')
            {
                field = field[1..];
            }
            else if (field.Length >= 2 && field[0] == 0xC2 && field[1] == 0xA0)
            {
                field = field[2..];
            }
            else
            {
                break;
            }
        }

        while (!field.IsEmpty)
        {
            if (field[^1] is (byte)' ' or (byte)'\t')
            {
                field = field[..^1];
            }
            else if (field.Length >= 2 && field[^2] == 0xC2 && field[^1] == 0xA0)
            {
                field = field[..^2];
            }
            else
            {
                break;
            }
        }

        return field;
    }
}
