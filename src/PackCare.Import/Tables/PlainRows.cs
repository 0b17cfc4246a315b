using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace PackCare.Import.Tables;

/// <summary>
/// Splits rows that need no CSV rules: no quotes, every line ended by LF or CR LF, every row of the same width. It stops
/// before the first line that is otherwise and says where, so that the CSV reader goes on from there. Nearly every line
/// of a long log is such a row, and finding their fields takes a tenth of the time.
/// </summary>
/// <param name="text">The text from the first row on, as UTF-8.</param>
/// <param name="delimiter">The delimiter, one byte of ASCII.</param>
/// <param name="width">How many fields a row has.</param>
/// <param name="firstLine">Line number of the first row.</param>
internal sealed class PlainRows(Stream text, byte delimiter, int width, int firstLine)
{
    /// <summary>Bytes before the text of a batch, so that eight bytes can be read that end with any field.</summary>
    private const int Margin = 32;

    private const int BatchBytes = 1 << 18;

    private readonly byte[] _buffer = new byte[Margin + BatchBytes + Margin];
    private readonly int[] _ends = new int[BatchBytes + Vector256<byte>.Count];
    private readonly int[] _starts = new int[(BatchBytes / Math.Max(1, width)) + 1];
    private readonly int[] _lines = new int[(BatchBytes / Math.Max(1, width)) + 1];
    private int _next = Margin;
    private int _filled = Margin;
    private int _stop;
    private int _odd;
    private bool _ended;

    /// <summary>How many rows the present batch has.</summary>
    internal int Count { get; private set; }

    /// <summary>How far the rows taken so far reach, in bytes from the first row on.</summary>
    internal long Offset { get; private set; }

    /// <summary>The number of the line that begins there.</summary>
    internal int NextLine { get; private set; } = firstLine;

    /// <summary>The bytes in which the fields lie.</summary>
    internal ReadOnlySpan<byte> Bytes => _buffer;

    /// <summary>Where each field of each row ends, row by row.</summary>
    internal ReadOnlySpan<int> Ends => _ends.AsSpan(0, Count * width);

    /// <summary>Where each row starts.</summary>
    internal ReadOnlySpan<int> Starts => _starts.AsSpan(0, Count);

    /// <summary>The line number of each row.</summary>
    internal ReadOnlySpan<int> Lines => _lines.AsSpan(0, Count);

    /// <summary>How many fields a row has.</summary>
    internal int Width => width;

    /// <summary>One field of one row of the batch.</summary>
    internal ReadOnlySpan<byte> Field(int row, int column)
    {
        int start = column == 0 ? _starts[row] : _ends[(row * width) + column - 1] + 1;
        return _buffer.AsSpan(start, _ends[(row * width) + column] - start);
    }

    /// <summary>Finds the rows of the next stretch of text; false, with no rows, where no plain row follows.</summary>
    internal bool Next()
    {
        Count = 0;
        if (_stop > 0)
        {
            return false;
        }

        while (Count == 0 && _stop == 0 && Fill())
        {
            Split(Scan());
        }

        return Count > 0;
    }

    /// <summary>Says how many rows of the batch were taken; if not all, that is the end.</summary>
    internal void Take(int rows)
    {
        if (rows < Count)
        {
            _stop = _starts[rows];
            Offset += _stop - _next;
            NextLine = _lines[rows];
            return;
        }

        int end = _ends[(Count * width) - 1];
        end += _buffer[end] == '\r' ? 2 : 1;
        Offset += end - _next;
        NextLine = _lines[Count - 1] + 1;
        _next = end;
    }

    // Moves what is left to the front and reads on; false where nothing was added.
    private bool Fill()
    {
        int left = _filled - _next;
        if (_ended || left == BatchBytes)
        {
            return false;
        }

        _buffer.AsSpan(_next, left).CopyTo(_buffer.AsSpan(Margin));
        _next = Margin;
        int read = text.ReadAtLeast(_buffer.AsSpan(Margin + left, BatchBytes - left), BatchBytes - left, throwOnEndOfStream: false);
        _filled = Margin + left + read;
        _buffer.AsSpan(_filled).Clear();
        _ended = read < BatchBytes - left;
        return read > 0;
    }

    // Notes where delimiters and line feeds are, and the first quote or lone CR: no row beyond it is plain.
    private int Scan()
    {
        ref byte bytes = ref MemoryMarshal.GetArrayDataReference(_buffer);
        ref int ends = ref MemoryMarshal.GetArrayDataReference(_ends);
        Vector256<byte> delimiters = Vector256.Create(delimiter);
        Vector256<byte> feeds = Vector256.Create((byte)'\n');
        Vector256<byte> quotes = Vector256.Create((byte)'"');
        Vector256<byte> returns = Vector256.Create((byte)'\r');
        int count = 0;
        int odd = int.MaxValue;
        for (int at = Margin; at < _filled; at += Vector256<byte>.Count)
        {
            Vector256<byte> chunk = Vector256.LoadUnsafe(ref bytes, (nuint)at);
            Vector256<byte> marks = Vector256.Equals(chunk, delimiters) | Vector256.Equals(chunk, feeds);
            uint special = (Vector256.Equals(chunk, quotes) | Vector256.Equals(chunk, returns)).ExtractMostSignificantBits();
            for (uint found = marks.ExtractMostSignificantBits(); found != 0; found &= found - 1)
            {
                Unsafe.Add(ref ends, count++) = at + BitOperations.TrailingZeroCount(found);
            }

            for (; special != 0 && odd == int.MaxValue; special &= special - 1)
            {
                int where = at + BitOperations.TrailingZeroCount(special);
                if (_buffer[where] == '"' || (_buffer[where + 1] != '\n' && where + 1 < _filled))
                {
                    odd = where;
                }
            }
        }

        _odd = odd;
        return count;
    }

    // Keeps the marks of whole plain rows; blank lines are passed over.
    private void Split(int marks)
    {
        int start = _next;
        int line = NextLine;
        int kept = 0;
        int mark = 0;
        while (mark < marks)
        {
            int first = _ends[mark];
            if (_buffer[first] == '\n' && (first == start || (first == start + 1 && _buffer[start] == '\r')) && width > 1)
            {
                start = first + 1;
                line++;
                mark++;
                continue;
            }

            if (marks - mark < width)
            {
                // A row that is not all there yet, unless its line ends too early.
                _stop = EndsEarly(mark, marks) || _ended ? start : 0;
                break;
            }

            for (int field = 0; field < width - 1; field++)
            {
                int end = _ends[mark + field];
                if (_buffer[end] != delimiter)
                {
                    _stop = start;
                    break;
                }

                _ends[kept + field] = end;
            }

            int last = _ends[mark + width - 1];
            if (_stop > 0 || _buffer[last] != '\n' || last > _odd || _buffer[start] == '#')
            {
                _stop = start;
                break;
            }

            _ends[kept + width - 1] = last > start && _buffer[last - 1] == '\r' ? last - 1 : last;
            _starts[Count] = start;
            _lines[Count] = line;
            Count++;
            kept += width;
            mark += width;
            start = last + 1;
            line++;
        }

        if (Count == 0)
        {
            // Only blank lines, or nothing that is whole: go on behind them.
            Offset += start - _next;
            NextLine = line;
            _next = start;
        }
    }

    private bool EndsEarly(int mark, int marks)
    {
        for (; mark < marks; mark++)
        {
            if (_buffer[_ends[mark]] == '\n')
            {
                return true;
            }
        }

        return false;
    }
}
