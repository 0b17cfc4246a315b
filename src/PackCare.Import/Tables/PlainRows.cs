using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace PackCare.Import.Tables;

/// <summary>
/// Rows of one stretch of a log that need no CSV rules: no quotes, every line ended by LF or CR LF, every row of the same
/// width. They end before the first line that is otherwise. Nearly every line of a long log is such a row, and finding
/// their fields takes a tenth of the time.
/// </summary>
/// <param name="delimiter">The delimiter, one byte of ASCII.</param>
/// <param name="width">How many fields a row has.</param>
internal sealed class PlainRows(byte delimiter, int width)
{
    /// <summary>The most bytes of a stretch.</summary>
    internal const int MostBytes = 1 << 17;

    /// <summary>Bytes before the text, so that eight bytes can be read that end with any field.</summary>
    private const int Margin = 32;

    /// <summary>So many rows of all columns stay in the nearest cache while their numbers are read.</summary>
    private const int NearRows = 256;

    private readonly byte[] _buffer = new byte[Margin + MostBytes + Margin];
    private readonly int[] _ends = new int[MostBytes + Vector256<byte>.Count];
    private readonly int[] _starts = new int[(MostBytes / Math.Max(1, width)) + 1];
    private readonly int[] _lines = new int[(MostBytes / Math.Max(1, width)) + 1];
    private readonly Ahead[] _ahead = new Ahead[width];
    private int _filled = Margin;
    private int _odd;
    private int _firstLine;

    /// <summary>How many rows there are.</summary>
    internal int Count { get; private set; }

    /// <summary>Where the text goes on that is no part of the rows, in bytes from its beginning on: what was read of it ends there, or another line.</summary>
    internal int Length { get; private set; }

    /// <summary>How many lines lie before that.</summary>
    internal int LineCount { get; private set; }

    /// <summary>Whether a line that is no plain row follows.</summary>
    internal bool Stops { get; private set; }

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

    /// <summary>One field of one row.</summary>
    internal ReadOnlySpan<byte> Field(int row, int column)
    {
        int start = column == 0 ? _starts[row] : _ends[(row * width) + column - 1] + 1;
        return _buffer.AsSpan(start, _ends[(row * width) + column] - start);
    }

    /// <summary>Takes whole lines in place of those before.</summary>
    /// <param name="rest">What another stretch left over, or nothing.</param>
    /// <param name="text">Where the text goes on.</param>
    /// <param name="next">What is left over here: the beginning of a line. Valid until the rows are looked for.</param>
    /// <returns>False, with nothing taken in, where no line ends any more.</returns>
    internal bool Fill(ReadOnlySpan<byte> rest, Stream text, out ReadOnlySpan<byte> next)
    {
        rest.CopyTo(_buffer.AsSpan(Margin));
        int read = text.ReadAtLeast(_buffer.AsSpan(Margin + rest.Length, MostBytes - rest.Length), MostBytes - rest.Length, throwOnEndOfStream: false);
        int end = Margin + rest.Length + read;
        _filled = _buffer.AsSpan(Margin, end - Margin).LastIndexOf((byte)'\n') + 1 + Margin;
        next = _buffer.AsSpan(_filled, end - _filled);
        return _filled > Margin;
    }

    /// <summary>Says in which decimals the numbers of a column are to be read ahead; below 0 where they are not to be.</summary>
    internal void Expect(int column, int decimals) => (_ahead[column].Decimals, _ahead[column].Read) = (decimals, 0);

    /// <summary>Finds the rows, and reads ahead what numbers were expected. Line numbers count from 0.</summary>
    internal void Look(byte mark)
    {
        _buffer.AsSpan(_filled).Clear();
        Split(Scan());
        for (int row = 0; row < Count; row += NearRows)
        {
            int rows = Math.Min(NearRows, Count - row);
            for (int column = 0; column < width; column++)
            {
                ref Ahead ahead = ref _ahead[column];
                if (ahead.Decimals >= 0 && row == 0)
                {
                    ahead.Start(Count);
                }

                if (ahead.Decimals >= 0 && ahead.Read == row)
                {
                    ahead.Read += ahead.Numbers.Read(this, column, row, ahead.Values.AsSpan(row, rows), ahead.Decimals, mark);
                }
            }
        }
    }

    /// <summary>The numbers of the first rows of a column that were read ahead; none where a field was not so plain.</summary>
    internal ReadOnlySpan<long> ReadAhead(int column, out int decimals, out PlainNumbers numbers)
    {
        ref Ahead ahead = ref _ahead[column];
        (decimals, numbers) = (ahead.Decimals, ahead.Numbers);
        return decimals < 0 ? [] : ahead.Values.AsSpan(0, ahead.Read);
    }

    /// <summary>Gives the lines the numbers that they have in the log.</summary>
    internal void CountFrom(int firstLine)
    {
        _firstLine = firstLine;
        foreach (ref int line in _lines.AsSpan(0, Count))
        {
            line += firstLine;
        }
    }

    /// <summary>Keeps the first rows only.</summary>
    internal void StopAt(int row)
    {
        (Length, LineCount) = (_starts[row] - Margin, _lines[row] - _firstLine);
        (Count, Stops) = (row, true);
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
        (Count, Stops) = (0, false);
        int start = Margin;
        int line = 0;
        int kept = 0;
        int mark = 0;
        while (mark < marks && !Stops)
        {
            int first = _ends[mark];
            if (_buffer[first] == '\n' && (first == start || (first == start + 1 && _buffer[start] == '\r')) && width > 1)
            {
                start = first + 1;
                line++;
                mark++;
                continue;
            }

            // With fewer marks than a row has, the line ends too early.
            Stops = marks - mark < width;
            for (int field = 0; field < width - 1 && !Stops; field++)
            {
                int end = _ends[mark + field];
                Stops = _buffer[end] != delimiter;
                _ends[kept + field] = end;
            }

            if (Stops)
            {
                break;
            }

            int last = _ends[mark + width - 1];
            Stops = _buffer[last] != '\n' || last > _odd || _buffer[start] == '#';
            if (!Stops)
            {
                _ends[kept + width - 1] = last > start && _buffer[last - 1] == '\r' ? last - 1 : last;
                _starts[Count] = start;
                _lines[Count] = line;
                Count++;
                kept += width;
                mark += width;
                start = last + 1;
                line++;
            }
        }

        Length = start - Margin;
        LineCount = line;
    }

    /// <summary>Numbers of one column that are read before it is their turn.</summary>
    private struct Ahead
    {
        internal int Decimals;
        internal int Read;
        internal long[]? Values;
        internal PlainNumbers Numbers;

        internal void Start(int rows)
        {
            Values = Values?.Length >= rows ? Values : new long[rows + (rows / 8)];
            Read = 0;
            Numbers = default;
        }
    }
}
