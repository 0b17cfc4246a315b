using System.Text;
using PackCare.Core.Samples;
using PackCare.Import.Lexing;
using PackCare.Import.Meanings;
using PackCare.Import.Text;

namespace PackCare.Import.Tables;

/// <summary>One column of a log as it was written, exact and compressed, before it has a meaning.</summary>
internal sealed class RawColumn(int index, ColumnShape shape, byte mark, string? header, string? unitField, byte[]? valueUnit = null, PackedBudget? budget = null)
{
    private const int MaxWords = 4096;

    private readonly RawValues _values = new(budget);
    private readonly RawValues? _dates = shape == ColumnShape.Time ? new RawValues(budget) : null;
    private readonly RawValues? _offsets = shape == ColumnShape.Time ? new RawValues(budget) : null;
    private readonly int[] _decimalCounts = new int[NumberLexer.KeptDecimals + 1];
    private readonly int[] _decimalLines = new int[NumberLexer.KeptDecimals + 1];
    private int _exponents;
    private int _exponentLine;
    private string _exponentText = "";
    private readonly Dictionary<string, int> _words = new(StringComparer.Ordinal);
    private readonly List<string> _wordList = [];

    /// <summary>Position from 0.</summary>
    internal int Index => index;

    /// <summary>What it holds.</summary>
    internal ColumnShape Shape => shape;

    /// <summary>Its header, or null.</summary>
    internal string? Header => header;

    /// <summary>Its field of the unit row, or null.</summary>
    internal string? UnitField => unitField;

    /// <summary>The numbers, or nanoseconds of a time, or positions in <see cref="Words"/>.</summary>
    internal IReadOnlyList<SampleBlock> Values { get; private set; } = [];

    /// <summary>The line of each value, where rows of several lines were put together and this column holds one of them; else null.</summary>
    internal IReadOnlyList<SampleBlock>? LineBlocks { get; set; }

    /// <summary>For times: year x 10000 + first x 100 + second part of the date; 0 without one.</summary>
    internal IReadOnlyList<SampleBlock> Dates { get; private set; } = [];

    /// <summary>For times: minutes east of UTC, missing where none is written.</summary>
    internal IReadOnlyList<SampleBlock> Offsets { get; private set; } = [];

    /// <summary>Figures of the values, where they are numbers.</summary>
    internal NumberProfile Profile { get; private set; } = new();

    /// <summary>The distinct words of a text column, in order of appearance.</summary>
    internal IReadOnlyList<string> Words => WordSource is null ? _wordList : WordSource.Words;

    private RawColumn? WordSource { get; init; }

    /// <summary>Whether a text column has more distinct words than are kept.</summary>
    internal bool TooManyWords { get; private set; }

    /// <summary>For times: how all of them are written.</summary>
    internal TimeShape TimeShape { get; private set; }

    /// <summary>For times: whether the order of day and month is settled by the writing.</summary>
    internal bool OrderKnown { get; private set; } = true;

    /// <summary>For times of open order: the largest first part of the date.</summary>
    internal int MaxFirst { get; private set; }

    /// <summary>For times of open order: the largest second part of the date.</summary>
    internal int MaxSecond { get; private set; }

    /// <summary>For times: the most fraction digits written.</summary>
    internal int FractionDigits { get; private set; }

    /// <summary>How many values were there.</summary>
    internal int Present { get; private set; }

    /// <summary>Whether some number would be another under the other decimal mark.</summary>
    internal bool SawEitherMark { get; private set; }

    /// <summary>Whether some number would be none under the other decimal mark.</summary>
    internal bool SawProof { get; private set; }

    /// <summary>The fewest decimals of any number.</summary>
    internal int MinDecimals => Math.Max(0, Array.FindIndex(DecimalCounts, count => count > 0));

    /// <summary>The most decimals of any number.</summary>
    internal int MaxDecimals => Math.Max(0, Array.FindLastIndex(DecimalCounts, count => count > 0));

    private int[] DecimalCounts => WordSource is null ? _decimalCounts : WordSource.DecimalCounts;

    /// <summary>Line of the first field that did not fit the shape; 0 for none.</summary>
    internal int FailedLine { get; private set; }

    /// <summary>That field.</summary>
    internal string FailedText { get; private set; } = "";

    /// <summary>The line of a lone number whose decimals differ from all others of a long column; 0 for none.</summary>
    internal int OddDecimalsLine
    {
        get
        {
            // Of one row a cell, the lone number is one of the cells'.
            if (WordSource is not null)
            {
                return WordSource.OddDecimalsLine;
            }

            int usual = Array.IndexOf(_decimalCounts, _decimalCounts.Max());
            int odd = Present - _decimalCounts[usual];
            return Present >= 6 && odd == 1 ? _decimalLines[Array.FindIndex(_decimalCounts, count => count == 1)] : 0;
        }
    }

    /// <summary>Whether a field could be taken in, without taking it in.</summary>
    internal bool Fits(ReadOnlySpan<byte> field) => shape switch
    {
        ColumnShape.Text => true,
        ColumnShape.Time => NumberLexer.IsMissing(field) || (TimeLexer.TryRead(field, out TimeToken token) && (TimeShape == TimeShape.None || token.Shape == TimeShape)),
        _ => ReadNumber(field, out _, out _) != NumberShape.None,
    };

    /// <summary>Reads a field as this column writes its numbers, with the unit behind them where it has one.</summary>
    internal NumberShape ReadNumber(ReadOnlySpan<byte> field, out long value, out int decimals)
    {
        if (valueUnit is not null && !UnitSuffix.TryStrip(ref field, valueUnit))
        {
            value = 0;
            decimals = 0;
            return NumberShape.None;
        }

        return NumberLexer.Read(field, mark, out value, out decimals);
    }

    /// <summary>Takes in the field that makes a line a row; false, with nothing taken in, where it does not fit.</summary>
    internal bool TryAcceptKey(ReadOnlySpan<byte> field, int line)
    {
        if (shape != ColumnShape.Number)
        {
            if (NumberLexer.IsMissing(field) || !Fits(field))
            {
                return false;
            }

            Accept(field, line);
            return true;
        }

        NumberShape number = ReadNumber(field, out long value, out int decimals);
        if (number is NumberShape.None or NumberShape.Missing || !_values.TryAppend(value, decimals))
        {
            return false;
        }

        CountNumber(number, decimals, field, line);
        return true;
    }

    /// <summary>Takes in one field.</summary>
    internal void Accept(ReadOnlySpan<byte> field, int line)
    {
        switch (shape)
        {
            case ColumnShape.Text:
                AcceptWord(field);
                break;
            case ColumnShape.Time:
                AcceptTime(field, line);
                break;
            default:
                AcceptNumber(field, line);
                break;
        }
    }

    /// <summary>Takes in one column of plain rows.</summary>
    /// <param name="rows">The rows.</param>
    /// <param name="count">How many of them, from the first.</param>
    /// <param name="trims">Whether blanks around a field do not count.</param>
    /// <param name="isKey">Whether the field makes the line a row; then taking ends before the first that does not fit.</param>
    /// <returns>How many were taken.</returns>
    internal int AcceptRows(PlainRows rows, int count, bool trims, bool isKey)
    {
        ReadOnlySpan<int> lines = rows.Lines;
        for (int row = AcceptReadAhead(rows, count); row < count; row++)
        {
            if (shape == ColumnShape.Number && valueUnit is null)
            {
                row += AcceptNumbers(rows, row, count);
                if (row == count)
                {
                    break;
                }
            }

            ReadOnlySpan<byte> field = trims ? TextBytes.Trim(rows.Field(row, index)) : rows.Field(row, index);
            if (!isKey)
            {
                Accept(field, lines[row]);
            }
            else if (!TryAcceptKey(field, lines[row]))
            {
                return row;
            }
        }

        return count;
    }

    /// <summary>The decimals that further numbers of the column likely have; -1 where it takes more than a plain number.</summary>
    internal int LikelyDecimals => shape == ColumnShape.Number && valueUnit is null && Present > 0 ? MaxDecimals : -1;

    private int AcceptReadAhead(PlainRows rows, int count)
    {
        ReadOnlySpan<long> values = rows.ReadAhead(index, out int decimals, out PlainNumbers numbers);
        if (values.IsEmpty || values.Length > count || !_values.TryAppend(values, decimals, values.Length - numbers.CountFewer(decimals)))
        {
            return 0;
        }

        Count(numbers, values.Length, decimals, rows, 0);
        return values.Length;
    }

    private void Count(in PlainNumbers numbers, int read, int decimals, PlainRows rows, int from)
    {
        Present += read;
        SawEitherMark |= numbers.SawEitherMark;
        SawProof |= numbers.SawProof;
        for (int fewer = 0; fewer < decimals && fewer < PlainNumbers.MostBytes; fewer++)
        {
            CountDecimals(fewer, numbers.Fewer[fewer], rows.Lines[numbers.FirstWithFewer[fewer]]);
        }

        CountDecimals(decimals, read - numbers.CountFewer(decimals), rows.Lines[from]);
    }

    private int AcceptNumbers(PlainRows rows, int from, int count)
    {
        int row = from;
        while (row < count)
        {
            Span<long> room = _values.Room(count - row);
            int decimals = _values.Decimals;
            var numbers = new PlainNumbers();
            int read = numbers.Read(rows, index, row, room, decimals, mark);
            if (read == 0)
            {
                break;
            }

            _values.Advance(read);
            Count(numbers, read, decimals, rows, row);
            row += read;
            if (read < room.Length)
            {
                break;
            }
        }

        return row - from;
    }

    /// <summary>Ends the column.</summary>
    internal void Close()
    {
        // One exponent among plain numbers is a stray letter, not a way of writing.
        if (_exponents == 1 && Present >= 5 && (FailedLine == 0 || FailedLine > _exponentLine))
        {
            FailedLine = _exponentLine;
            FailedText = _exponentText;
        }

        Values = _values.Close(out NumberProfile profile);
        Profile = profile;
        Dates = _dates?.Close(out _) ?? [];
        Offsets = _offsets?.Close(out _) ?? [];
    }

    /// <summary>A column of other values that were won from this one.</summary>
    /// <param name="newHeader">Its header.</param>
    /// <param name="values">The values in place of this column's.</param>
    internal RawColumn With(string? newHeader, IReadOnlyList<SampleBlock> values) => new(index, shape, mark, newHeader, unitField)
    {
        Values = values,
        Profile = NumberProfile.Of(values),
        TimeShape = TimeShape,
        OrderKnown = OrderKnown,
        MaxFirst = MaxFirst,
        MaxSecond = MaxSecond,
        FractionDigits = FractionDigits,
        Present = CountPresent(values),
        SawEitherMark = SawEitherMark,
        SawProof = SawProof,
        FailedLine = FailedLine,
        FailedText = FailedText,
        TooManyWords = TooManyWords,
        WordSource = WordSource ?? this,
    };

    /// <summary>The same with the dates and offsets of its times replaced too.</summary>
    internal RawColumn WithTimes(IReadOnlyList<SampleBlock> values, IReadOnlyList<SampleBlock> dates, IReadOnlyList<SampleBlock> offsets)
    {
        RawColumn column = With(header, values);
        column.Dates = dates;
        column.Offsets = offsets;
        return column;
    }

    /// <summary>Lets go of the values; all else that is known of the column stays.</summary>
    internal void Release() => Values = [];

    private static int CountPresent(IReadOnlyList<SampleBlock> values)
    {
        int present = 0;
        foreach (SampleBlock block in values)
        {
            long[] scaled = new long[block.Count];
            BlockCodec.Decode(block, scaled);
            present += block.Count - scaled.AsSpan().Count(BlockCodec.Missing);
        }

        return present;
    }

    private void AcceptNumber(ReadOnlySpan<byte> field, int line)
    {
        NumberShape number = ReadNumber(field, out long value, out int decimals);
        if (number == NumberShape.Missing)
        {
            _values.AppendMissing();
            return;
        }

        if (number == NumberShape.None || !_values.TryAppend(value, decimals))
        {
            Fail(field, line);
            _values.AppendMissing();
            return;
        }

        CountNumber(number, decimals, field, line);
    }

    private void CountNumber(NumberShape number, int decimals, ReadOnlySpan<byte> field, int line)
    {
        SawEitherMark |= number == NumberShape.EitherMark;
        SawProof |= number == NumberShape.Proof;
        if (number == NumberShape.Scientific && _exponents++ == 0)
        {
            _exponentLine = line;
            _exponentText = Refusals.Snippet(Encoding.UTF8.GetString(field));
        }

        CountDecimals(decimals, 1, line);
        Present++;
    }

    private void CountDecimals(int decimals, int count, int line)
    {
        if (count > 0 && (_decimalCounts[decimals] += count) == count)
        {
            _decimalLines[decimals] = line;
        }
    }

    private void AcceptTime(ReadOnlySpan<byte> field, int line)
    {
        if (!TimeLexer.TryRead(field, out TimeToken token) || (TimeShape != TimeShape.None && token.Shape != TimeShape))
        {
            if (!NumberLexer.IsMissing(field))
            {
                Fail(field, line);
            }

            _values.AppendMissing();
            _dates!.AppendMissing();
            _offsets!.AppendMissing();
            return;
        }

        TimeShape = token.Shape;
        OrderKnown &= token.OrderKnown;
        if (!token.OrderKnown)
        {
            MaxFirst = Math.Max(MaxFirst, token.First);
            MaxSecond = Math.Max(MaxSecond, token.Second);
        }

        FractionDigits = Math.Max(FractionDigits, token.FractionDigits);
        _values.TryAppend(token.Nanoseconds, 0);
        _dates!.TryAppend((token.Year * 10_000L) + (token.First * 100) + token.Second, 0);
        if (token.OffsetMinutes == TimeToken.NoOffset)
        {
            _offsets!.AppendMissing();
        }
        else
        {
            _offsets!.TryAppend(token.OffsetMinutes, 0);
        }

        Present++;
    }

    private void AcceptWord(ReadOnlySpan<byte> field)
    {
        if (field.IsEmpty || NumberLexer.IsMissing(field))
        {
            _values.AppendMissing();
            return;
        }

        Present++;
        Span<char> chars = stackalloc char[Math.Min(field.Length, 256)];
        if (field.Length > 256 || TooManyWords)
        {
            TooManyWords = true;
            _values.AppendMissing();
            return;
        }

        int length = Encoding.UTF8.GetChars(field, chars);
        var lookup = _words.GetAlternateLookup<ReadOnlySpan<char>>();
        ReadOnlySpan<char> word = ((ReadOnlySpan<char>)chars[..length]).Trim();
        if (!lookup.TryGetValue(word, out int at))
        {
            if (_wordList.Count == MaxWords)
            {
                TooManyWords = true;
                _values.AppendMissing();
                return;
            }

            at = _wordList.Count;
            lookup[word] = at;
            _wordList.Add(word.ToString());
        }

        _values.TryAppend(at, 0);
    }

    /// <summary>Takes in a field that does not hold what it should, whatever it may be by itself.</summary>
    internal void Reject(ReadOnlySpan<byte> field, int line)
    {
        Accept([], line);
        Fail(field, line);
    }

    private void Fail(ReadOnlySpan<byte> field, int line)
    {
        if (FailedLine == 0)
        {
            FailedLine = line;
            FailedText = Refusals.Snippet(Encoding.UTF8.GetString(field[..Math.Min(field.Length, 200)]));
        }
    }
}
