using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Turns a table with one row a cell and moment into one with one row a moment.</summary>
internal sealed class LongPivot
{
    private readonly LogColumns _columns;
    private readonly ColumnRole _cell;
    private readonly ColumnRole _voltage;
    private readonly CellLabels _labels;
    private readonly int _count;

    private LongPivot(LogColumns columns, ColumnRole cell, ColumnRole voltage, CellLabels labels)
    {
        _columns = columns;
        _cell = cell;
        _voltage = voltage;
        _labels = labels;
        _count = labels.RowsOfMoment;
    }

    /// <summary>Position, from 0, of the column that numbers the cells.</summary>
    internal int CellColumn => _cell.Column.Index;

    /// <summary>Recognises the layout; null where it is another, or, with the problem told, where a row's cell is damaged.</summary>
    internal static LongPivot? Of(LogColumns columns)
    {
        List<ColumnRole> voltages = [.. columns.Roles.Where(role => role.Profile is { Count: > 0 } && role.Hint is { Quantity: Quantity.Voltage, IsDerived: false })];
        if (voltages.Any(role => role.Hint.Number is not null))
        {
            return null;
        }

        foreach (ColumnRole role in columns.Roles.Where(role => role.Hint is { Quantity: Quantity.CellNumber, IsDerived: false } && role.Column.Present > 0 && !VoltageFinder.LooksLikeCell(role)))
        {
            List<(ColumnRole Role, long? Pack)> candidates =
            [
                .. voltages.Where(voltage => !voltage.Hint.IsPack).Select(voltage => (Role: voltage, Pack: PackRows.LabelOf(columns, role, voltage)))
                    .Where(candidate => StartsAsCell(candidate.Role, role, candidate.Pack)),
            ];
            List<ColumnRole> cells = [.. candidates.Select(candidate => candidate.Role)];
            if (cells.Count == 0)
            {
                continue;
            }

            CellLabels? labels = CellLabels.Of(columns, role, candidates.Count == 1 ? candidates[0].Pack : null);
            if (labels is null)
            {
                if (!columns.IsRefused && role.Column is { Shape: ColumnShape.Text, TooManyWords: false, Words.Count: > 1 })
                {
                    columns.Refuse("cell-numbers", 0, role, $"\"{Refusals.Snippet(role.Column.Words[0])}\" in a column headed as a cell, which numbers none", "number the cells from 1 in that column");
                }

                return null;
            }

            if (cells.Count > 1 && cells.Count(voltage => voltage.Hint.IsCell) == 1)
            {
                cells.RemoveAll(voltage => !voltage.Hint.IsCell);
            }

            if (cells.Count > 1)
            {
                cells = [.. cells.Where(voltage => voltages.Any(pack => pack != voltage && IsSumOf(pack, voltage, labels.Count)))];
            }

            if (cells.Count != 1)
            {
                columns.Refuse("ambiguous-cells", 0, cells.Count == 0 ? voltages[0] : cells[0], "several voltages, and nothing tells which is that of the cell", "head them cell voltage and pack voltage; or name one in a reading guide as \"cell-voltage\"");
                return null;
            }

            return new LongPivot(columns, role, cells[0], labels);
        }

        return null;
    }

    // One damaged value decides nothing, so the first ones and not the range.
    private static bool StartsAsCell(ColumnRole role, ColumnRole label, long? pack)
    {
        long[] labels = new long[Channel.BlockRows];
        BlockCodec.Decode(label.Column.Values[0], labels);
        double[] values = [.. LogColumns.Values(role, 0, 1).Where((value, row) => !double.IsNaN(value) && labels[row] != pack).Take(9).Order()];
        double middle = values.Length == 0 ? double.NaN : values[values.Length / 2];
        return middle is >= 0.5 and <= VoltageFinder.HighestCell or (>= 500 and <= VoltageFinder.HighestCell * 1000);
    }

    // Over many moments, the mean of the pack is as many times the mean of its cells as it has cells; row by row it is proved later.
    private static bool IsSumOf(ColumnRole pack, ColumnRole cell, int count)
    {
        double packMean = Mean(pack);
        double sum = Mean(cell) * count;
        return Math.Abs((packMean * (packMean > 150 ? 0.001 : 1)) - (sum * (sum > 300 ? 0.001 : 1))) < 0.02 * sum * (sum > 300 ? 0.001 : 1);
    }

    private static double Mean(ColumnRole role) => LogColumns.Values(role, 0, 1).Where(value => !double.IsNaN(value)).DefaultIfEmpty(double.NaN).Average();

    /// <summary>Makes the table with one row a moment; null where the rows contradict each other, with the problem told.</summary>
    /// <param name="time">The column that tells the time.</param>
    internal RawTable? Pivot(ColumnRole time)
    {
        List<ColumnRole> moments = [time, .. _columns.Roles.Where(role => role.Meaning is ColumnMeaning.Date or ColumnMeaning.ClockTime && role != time)];
        List<ColumnRole> groups = [.. _columns.Roles.Where(role => role.Hint.Quantity is Quantity.PackLabel or Quantity.Session && role.Column.Present > 0 && !moments.Contains(role))];
        List<ColumnRole> keys = [.. moments, .. groups];
        if (_columns.Table.LastLineBlocks is null && CellByCell.Is(_labels))
        {
            RawTable? sorted = CellByCell.MomentByMoment(_columns, _labels, _cell, time, moments, groups);
            if (sorted is not null)
            {
                _columns.Reasons.Add("All rows of one cell come first, then all of the next; rows of one time were put together.");
            }

            return sorted is null ? null : Group(sorted, keys, wrap: false, out _, out _);
        }

        RawTable? byTime = Group(_columns.Table, keys, wrap: false, out int rows, out int missing);
        if (byTime is null || _count == 1 || rows * 3 <= _columns.Table.Rows * 2 || _columns.Table.Rows < _count)
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
        int count = 0;
        int repeatedLine = 0;
        var before = new (long Value, int Decimals)[sources.Length];
        var cellLines = new ChannelWriter[_count];
        for (int k = 0; k < _count; k++)
        {
            cellLines[k] = new ChannelWriter(ChannelKey.Time, table.Budget);
        }

        long[] lineOfCell = new long[_count];
        int rowsOfMoment = 0;
        var torn = new TornMoments(_count);
        int timeColumn = keyColumns[0];
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

            count = table.LineBlocks[b].Count;
            for (int i = 0; i < count; i++, row++)
            {
                int cell = _labels.CellOf(current[cellColumn][i]);
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
                    if (repeatedLine > 0 && open && partial)
                    {
                        RefuseAt(repeatedLine, _cell, "one cell twice at one moment", "correct or remove that line");
                        return null;
                    }

                    bool again = open && !wrap && !restart && seen[cell] && keyColumns.All(key => SameValue(shared[key], (current[key][i], decimals[key])) && (sources[key].Shape != ColumnShape.Time || sharedDates[key] == (dates[key][i], offsets[key][i])));
                    if (again && rowsOfMoment == 1 && _count > 1)
                    {
                        RefuseAt((int)lines[i], _cell, "one cell twice at one moment", "correct or remove that line");
                        return null;
                    }

                    repeatedLine = again ? (int)lines[i] : 0;
                    CloseMoment(ref rows, ref missing);
                    open = true;
                    anew = restart;
                    if (restart)
                    {
                        restarts.Add(rows);
                    }

                    firstLine = lines[i];
                    rowsOfMoment = 0;
                    shared.CopyTo(before, 0);
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
                lineOfCell[cell] = lines[i];
                rowsOfMoment++;
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
                        RefuseAt(OddLine(c, value, i), _columns.Roles[c], "different values for one moment", "correct that line; if the values are right, write one row a moment, with a column for each cell");
                        return null;
                    }
                    else
                    {
                        varies[c] |= value.Value != BlockCodec.Missing && !SameValue(shared[c], value) && Array.IndexOf(keyColumns, c) < 0;
                    }
                }
            }
        }

        if (repeatedLine > 0 && Array.IndexOf(seen, false) >= 0)
        {
            RefuseAt(repeatedLine, _cell, "one cell twice at one moment", "correct or remove that line");
            return null;
        }

        CloseMoment(ref rows, ref missing);
        // Rows that were hardly put together are in another order; they tell nothing about their cell numbers.
        if (!wrap && rows * 3 <= table.Rows * 2 && tally.Damaged() is { } damaged)
        {
            _columns.Problems.Add(Refusals.Refuse(
                "cell-numbers", table.LineOf(damaged.Row), CellColumn + 1, $"\"{_labels.NameOf(damaged.Cell)}\" for a cell, which hardly any moment has", "correct the cell's number on that line, or remove the line"));
            return null;
        }

        if (!wrap && torn.Line is int tornLine)
        {
            RefuseAt(tornLine, _columns.Roles[timeColumn], "a row with another time than the rest of its moment", "correct that line, or remove it");
            return null;
        }

        var made = new List<RawColumn>();
        var cellHints = new Dictionary<int, HeaderHint>();
        IReadOnlyList<SampleBlock>[] linesOfCells = [.. cellLines.Select(writer => writer.ToChannel().Blocks)];
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
                cellHints.Add(made.Count, role.Hint);
                IReadOnlyList<SampleBlock> values = writers[c][0].ToChannel().Blocks;
                made.Add(sources[c].Shape == ColumnShape.Time
                    ? sources[c].WithTimes(values, dateWriters[c]!.ToChannel().Blocks, offsetWriters[c]!.ToChannel().Blocks)
                    : sources[c].With(sources[c].Header, values));
                continue;
            }

            string? unit = UnitMarks.Symbol(role.Hint.Unit);
            string name = role.Hint.Quantity == Quantity.Resistance ? "cell resistance" : "cell";
            for (int k = 0; k < (role == _voltage ? _count : _labels.Count); k++)
            {
                bool isPack = k == _labels.Count;
                cellHints.Add(made.Count, isPack ? role.Hint with { IsCell = false, IsPack = true } : role.Hint with { IsCell = true, Number = k + 1 });
                RawColumn cellColumnMade = sources[c].With($"{(isPack ? "pack" : $"{name} {k + 1}")}{(unit is null ? "" : $" [{unit}]")}", writers[c][k].ToChannel().Blocks);
                cellColumnMade.LineBlocks = linesOfCells[k];
                made.Add(cellColumnMade);
            }
        }

        Hints = cellHints;

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
            for (int k = 0; k < _count; k++)
            {
                Append(cellLines[k], (seen[k] ? lineOfCell[k] : BlockCodec.Missing, 0));
            }

            torn.Add(seen, firstLine, shared[timeColumn].Value == BlockCodec.Missing ? double.NaN : shared[timeColumn].Value / Math.Pow(10, shared[timeColumn].Decimals));
            firstLines.TryAppend(firstLine, 0);
            lastLines.TryAppend(lastLine, 0);
            moments++;
        }

        // Of two values for one moment, the odd one is what the other rows of the moment do not have, or else what is further from the moment before.
        int OddLine(int column, (long Value, int Decimals) value, int at)
        {
            if (rowsOfMoment == 2)
            {
                bool nextBelongs = at + 1 < current[column].Length && at + 1 < count && SameValue((current[timeColumn][at + 1], decimals[timeColumn]), shared[timeColumn]);
                (long Value, int Decimals) next = nextBelongs ? (current[column][at + 1], decimals[column]) : before[column];
                if (next.Value != BlockCodec.Missing && (SameValue(next, value) || (!SameValue(next, shared[column]) && Distance(next, value) < Distance(next, shared[column]))))
                {
                    return (int)firstLine;
                }
            }

            return (int)lines[at];
        }
    }

    /// <summary>What the columns of the table that was put together last are, by their position in it.</summary>
    internal IReadOnlyDictionary<int, HeaderHint> Hints { get; private set; } = new Dictionary<int, HeaderHint>();

    private void RefuseAt(int line, ColumnRole role, string found, string advice) =>
        _columns.Problems.Add(Refusals.Refuse("long-conflict", line, role.Column.Index + 1, found, advice));

    private static double Distance((long Value, int Decimals) a, (long Value, int Decimals) b) =>
        Math.Abs((a.Value / Math.Pow(10, a.Decimals)) - (b.Value / Math.Pow(10, b.Decimals)));

    private bool IsPerCell(int column) =>
        _columns.Roles[column] == _voltage || _columns.Roles[column] is { Hint: { Quantity: Quantity.Resistance, Number: null }, Profile.Count: > 0 };

    private static bool MustAgree(ColumnRole role) => role.Profile is not null
        && role.Hint is { IsDerived: false, Quantity: Quantity.Voltage or Quantity.Current or Quantity.Charge or Quantity.Energy };

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
