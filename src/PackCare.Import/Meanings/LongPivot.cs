using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Turns a table with one row a cell and moment into one with one row a moment.</summary>
internal sealed class LongPivot
{
    private const int MostCells = 32;

    private readonly LogColumns _columns;
    private readonly ColumnRole _cell;
    private readonly ColumnRole _voltage;
    private readonly int[]? _cellOfWord;
    private readonly int _least;
    private readonly int _count;

    private LongPivot(LogColumns columns, ColumnRole cell, ColumnRole voltage, int[]? cellOfWord, int least, int count)
    {
        _columns = columns;
        _cell = cell;
        _voltage = voltage;
        _cellOfWord = cellOfWord;
        _least = least;
        _count = count;
    }

    /// <summary>Position, from 0, of the column that numbers the cells.</summary>
    internal int CellColumn => _cell.Column.Index;

    /// <summary>Recognises the layout; null where it is another.</summary>
    internal static LongPivot? Of(LogColumns columns)
    {
        List<ColumnRole> voltages = [.. columns.Roles.Where(role => role.Profile is { Count: > 0 } && role.Hint is { Quantity: Quantity.Voltage, IsPack: false, Number: null, IsDerived: false })];
        if (voltages.Count != 1)
        {
            return null;
        }

        foreach (ColumnRole role in columns.Roles.Where(role => role.Hint.Quantity == Quantity.CellNumber && role.Column.Present > 0))
        {
            if (role.Profile is { IsConstant: false, Min: 0 or 1, Max: <= MostCells, Missing: 0 } profile && role.Column.MaxDecimals == 0)
            {
                return new LongPivot(columns, role, voltages[0], null, (int)profile.Min, (int)(profile.Max - profile.Min) + 1);
            }

            if (role.Column.Shape == ColumnShape.Text && !role.Column.TooManyWords && role.Column.Words.Count is > 1 and <= MostCells && role.Column.Present == columns.Table.Rows)
            {
                int[] numbers = [.. role.Column.Words.Select(NumberIn)];
                if (numbers.All(n => n is >= 0 and <= MostCells) && numbers.Distinct().Count() == numbers.Length && numbers.Min() is 0 or 1)
                {
                    return new LongPivot(columns, role, voltages[0], numbers, numbers.Min(), numbers.Max() - numbers.Min() + 1);
                }
            }
        }

        return null;
    }

    /// <summary>Makes the table with one row a moment; null where the rows contradict each other, with the problem told.</summary>
    /// <param name="time">The column that tells the time.</param>
    internal RawTable? Pivot(ColumnRole time)
    {
        List<ColumnRole> keys = [time, .. _columns.Roles.Where(role => role.Meaning is ColumnMeaning.Date or ColumnMeaning.ClockTime && role != time), .. _columns.Roles.Where(role => role.Hint.Quantity is Quantity.PackLabel or Quantity.Session && role.Column.Present > 0)];
        if (CellByCell.MomentByMoment(_columns.Table, Array.IndexOf(_columns.Roles, _cell), Array.IndexOf(_columns.Roles, time)) is { } sorted)
        {
            _columns.Reasons.Add("All rows of one cell come first, then all of the next; their times are the same, and rows of one time were put together.");
            return Group(sorted, keys, wrap: false, out _, out _);
        }

        RawTable? byTime = Group(_columns.Table, keys, wrap: false, out int rows, out int missing);
        if (byTime is null || rows * 3 <= _columns.Table.Rows * 2 || _columns.Table.Rows < _count)
        {
            return byTime;
        }

        // Each cell has a time of its own: a moment ends where the cell numbers begin anew.
        RawTable? byWrap = Group(_columns.Table, keys, wrap: true, out _, out missing);
        if (byWrap is not null && missing > 0)
        {
            _columns.Refuse("long-layout", 0, _cell, "rows of single cells that do not make whole moments", "write one row a moment, with a column for each cell");
            return null;
        }

        return byWrap;
    }

    internal static int NumberIn(string word)
    {
        string digits = new([.. word.Where(char.IsAsciiDigit)]);
        bool single = digits.Length is 1 or 2 && word.Contains(digits, StringComparison.Ordinal);
        return single ? int.Parse(digits, CultureInfo.InvariantCulture) : -1;
    }

    private RawTable? Group(RawTable table, List<ColumnRole> keys, bool wrap, out int rows, out int missing)
    {
        rows = 0;
        missing = 0;
        RawColumn[] sources = table.Columns;
        int blocks = table.LineBlocks.Count;
        var current = new long[sources.Length][];
        var dates = new long[sources.Length][];
        var offsets = new long[sources.Length][];
        var decimals = new int[sources.Length];
        var writers = new ChannelWriter[sources.Length][];
        var dateWriters = new ChannelWriter?[sources.Length];
        var offsetWriters = new ChannelWriter?[sources.Length];
        for (int c = 0; c < sources.Length; c++)
        {
            current[c] = new long[Channel.BlockRows];
            dates[c] = sources[c].Shape == ColumnShape.Time ? new long[Channel.BlockRows] : [];
            offsets[c] = sources[c].Shape == ColumnShape.Time ? new long[Channel.BlockRows] : [];
            writers[c] = [.. Enumerable.Range(0, IsPerCell(c) ? _count : 1).Select(_ => new ChannelWriter(ChannelKey.Time, table.Budget))];
            dateWriters[c] = sources[c].Shape == ColumnShape.Time ? new ChannelWriter(ChannelKey.Time, table.Budget) : null;
            offsetWriters[c] = sources[c].Shape == ColumnShape.Time ? new ChannelWriter(ChannelKey.Time, table.Budget) : null;
        }

        var firstLines = new ChannelWriter(ChannelKey.Time, table.Budget);
        var lastLines = new ChannelWriter(ChannelKey.Time, table.Budget);
        var restarts = new List<int>();
        var oldRestarts = new HashSet<int>(table.Restarts);
        int[] keyColumns = [.. keys.Select(role => Array.IndexOf(_columns.Roles, role))];
        int[] labelColumns = [.. keyColumns.Where(key => _columns.Roles[key].Hint.Quantity is Quantity.PackLabel or Quantity.Session)];
        int cellColumn = Array.IndexOf(_columns.Roles, _cell);
        var varies = new bool[sources.Length];
        long[] lines = new long[Channel.BlockRows];

        var shared = new (long Value, int Decimals)[sources.Length];
        var sharedDates = new (long Date, long Offset)[sources.Length];
        var perCell = new (long Value, int Decimals)[sources.Length, _count];
        var seen = new bool[_count];
        var tally = new CellTally(_count);
        int[] rowOf = new int[_count];
        bool anew = false;
        long firstLine = 0;
        long lastLine = 0;
        int previousCell = int.MaxValue;
        bool open = false;
        int repeatedRow = -1;
        int row = 0;
        for (int b = 0; b < blocks; b++)
        {
            BlockCodec.Decode(table.LineBlocks[b], lines);
            for (int c = 0; c < sources.Length; c++)
            {
                decimals[c] = BlockCodec.Decode(sources[c].Values[b], current[c]);
                if (sources[c].Shape == ColumnShape.Time)
                {
                    BlockCodec.Decode(sources[c].Dates[b], dates[c]);
                    BlockCodec.Decode(sources[c].Offsets[b], offsets[c]);
                }
            }

            for (int i = 0; i < table.LineBlocks[b].Count; i++, row++)
            {
                int cell = CellAt(current[cellColumn][i]);
                bool restart = oldRestarts.Contains(row);
                bool begins = !open || restart || seen[cell] || (wrap && cell <= previousCell);
                if (!begins && !wrap)
                {
                    foreach (int key in keyColumns)
                    {
                        begins |= !SameValue(shared[key], (current[key][i], decimals[key])) || (sources[key].Shape == ColumnShape.Time && sharedDates[key] != (dates[key][i], offsets[key][i]));
                    }
                }

                if (begins)
                {
                    bool partial = Array.IndexOf(seen, false) >= 0;
                    if (repeatedRow >= 0 && open && partial)
                    {
                        _columns.Refuse("long-conflict", repeatedRow, _cell, "one cell twice at one moment", "correct or remove that line");
                        return null;
                    }

                    bool again = open && !wrap && !restart && seen[cell] && keyColumns.All(key => SameValue(shared[key], (current[key][i], decimals[key])) && (sources[key].Shape != ColumnShape.Time || sharedDates[key] == (dates[key][i], offsets[key][i])));
                    repeatedRow = again ? row : -1;
                    CloseMoment(ref rows, ref missing);
                    open = true;
                    anew = restart;
                    if (restart)
                    {
                        restarts.Add(rows);
                    }

                    firstLine = lines[i];
                    Array.Clear(seen);
                    rowOf.AsSpan().Fill(-1);
                    for (int c = 0; c < sources.Length; c++)
                    {
                        shared[c] = (current[c][i], decimals[c]);
                        if (sources[c].Shape == ColumnShape.Time)
                        {
                            sharedDates[c] = (dates[c][i], offsets[c][i]);
                        }

                        for (int k = 0; k < _count; k++)
                        {
                            perCell[c, k] = (BlockCodec.Missing, 0);
                        }
                    }
                }

                lastLine = lines[i];
                seen[cell] = true;
                rowOf[cell] = row;
                previousCell = cell;
                for (int c = 0; c < sources.Length; c++)
                {
                    (long Value, int Decimals) value = (current[c][i], decimals[c]);
                    if (IsPerCell(c))
                    {
                        perCell[c, cell] = value;
                    }
                    else if (shared[c].Value == BlockCodec.Missing)
                    {
                        shared[c] = value;
                    }
                    else if (value.Value != BlockCodec.Missing && !SameValue(shared[c], value) && MustAgree(_columns.Roles[c]))
                    {
                        _columns.Refuse("long-conflict", row, _columns.Roles[c], "different values for one moment", "write one row a moment, with a column for each cell");
                        return null;
                    }
                    else
                    {
                        varies[c] |= value.Value != BlockCodec.Missing && !SameValue(shared[c], value) && Array.IndexOf(keyColumns, c) < 0;
                    }
                }
            }
        }

        CloseMoment(ref rows, ref missing);
        // Rows that were hardly put together are in another order; they tell nothing about their cell numbers.
        if (!wrap && rows * 3 <= table.Rows * 2 && tally.Damaged() is { } damaged)
        {
            _columns.Problems.Add(Refusals.Refuse(
                "cell-numbers", table.LineOf(damaged.Row), CellColumn + 1, $"\"{LabelOf(damaged.Cell)}\" for a cell, which hardly any moment has", "correct the cell's number on that line, or remove the line"));
            return null;
        }

        var made = new List<RawColumn>();
        for (int c = 0; c < sources.Length; c++)
        {
            if (c == cellColumn)
            {
                continue;
            }

            ColumnRole role = _columns.Roles[c];
            if (varies[c] && role.Profile is not null)
            {
                _columns.Notice("left-out", 0, role, $"column {c + 1} has several values at one moment", "it was left out; write one row a moment, with a column for each cell");
                continue;
            }

            if (!IsPerCell(c))
            {
                IReadOnlyList<SampleBlock> values = writers[c][0].ToChannel().Blocks;
                made.Add(sources[c].Shape == ColumnShape.Time
                    ? sources[c].WithTimes(values, dateWriters[c]!.ToChannel().Blocks, offsetWriters[c]!.ToChannel().Blocks)
                    : sources[c].With(sources[c].Header, values));
                continue;
            }

            string? unit = UnitMarks.Symbol(role.Hint.Unit);
            string name = role.Hint.Quantity == Quantity.Resistance ? "cell resistance" : "cell";
            for (int k = 0; k < _count; k++)
            {
                made.Add(sources[c].With($"{name} {k + 1}{(unit is null ? "" : $" [{unit}]")}", writers[c][k].ToChannel().Blocks));
            }
        }

        return new RawTable
        {
            Frame = table.Frame,
            Columns = [.. made],
            Rows = rows,
            LineBlocks = firstLines.ToChannel().Blocks,
            LastLineBlocks = lastLines.ToChannel().Blocks,
            Restarts = restarts,
            Ledger = table.Ledger,
            Problems = table.Problems,
            Remarks = table.Remarks,
            Budget = table.Budget,
        };

        void CloseMoment(ref int moments, ref int gaps)
        {
            if (!open)
            {
                return;
            }

            for (int c = 0; c < sources.Length; c++)
            {
                if (IsPerCell(c))
                {
                    for (int k = 0; k < _count; k++)
                    {
                        Append(writers[c][k], perCell[c, k]);
                        gaps += c == Array.IndexOf(_columns.Roles, _voltage) && perCell[c, k].Value == BlockCodec.Missing ? 1 : 0;
                    }
                }
                else
                {
                    Append(writers[c][0], shared[c]);
                    if (dateWriters[c] is { } dateWriter)
                    {
                        Append(dateWriter, (sharedDates[c].Date, 0));
                        Append(offsetWriters[c]!, (sharedDates[c].Offset, 0));
                    }
                }
            }

            string pack = string.Join('\n', labelColumns.Select(c => shared[c].Value.ToString(CultureInfo.InvariantCulture)));
            tally.Add(pack, anew, Moment(shared[keyColumns[0]], sources[keyColumns[0]].Shape == ColumnShape.Time ? sharedDates[keyColumns[0]].Date : 0), rowOf);
            firstLines.TryAppend(firstLine, 0);
            lastLines.TryAppend(lastLine, 0);
            moments++;
        }
    }

    private bool IsPerCell(int column) =>
        _columns.Roles[column] == _voltage || _columns.Roles[column] is { Hint: { Quantity: Quantity.Resistance, Number: null }, Profile.Count: > 0 };

    private static bool MustAgree(ColumnRole role) => role.Profile is not null
        && role.Hint is { IsDerived: false, Quantity: Quantity.Voltage or Quantity.Current or Quantity.Charge or Quantity.Energy };

    private int CellAt(long value) => (_cellOfWord is null ? (int)value : _cellOfWord[(int)value]) - _least;

    private string LabelOf(int cell) =>
        _cellOfWord is null ? (cell + _least).ToString(CultureInfo.InvariantCulture) : Refusals.Snippet(_cell.Column.Words[Array.IndexOf(_cellOfWord, cell + _least)]);

    // Rises with time, in a unit of its own.
    private static decimal Moment((long Value, int Decimals) time, long date)
    {
        const decimal Day = 1e17m;
        decimal value = time.Value == BlockCodec.Missing ? 0 : time.Value;
        for (int i = 0; i < time.Decimals; i++)
        {
            value /= 10;
        }

        return value + (date == BlockCodec.Missing ? 0 : date * Day);
    }

    private static bool SameValue((long Value, int Decimals) a, (long Value, int Decimals) b)
    {
        if (a.Value == BlockCodec.Missing || b.Value == BlockCodec.Missing)
        {
            return a.Value == b.Value;
        }

        Int128 left = a.Value;
        Int128 right = b.Value;
        for (int i = a.Decimals; i < b.Decimals; i++)
        {
            left *= 10;
        }

        for (int i = b.Decimals; i < a.Decimals; i++)
        {
            right *= 10;
        }

        return left == right;
    }

    private static void Append(ChannelWriter writer, (long Value, int Decimals) value)
    {
        if (value.Value == BlockCodec.Missing || !writer.TryAppend(value.Value, value.Decimals))
        {
            writer.AppendMissing();
        }
    }
}
