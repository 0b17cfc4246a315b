using PackCare.Core.Samples;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Recognises one row a cell and moment without a header: a column that counts 1 to n again and again, over a time that stands still meanwhile.</summary>
internal static class LongShape
{
    private const int MostCells = 32;

    /// <summary>What columns are, by their position in the table; null where the layout is another, or, with the problem told, where it stays open.</summary>
    internal static Dictionary<int, HeaderHint>? Hints(LogColumns columns)
    {
        if (columns.Table.Rows < 4 || columns.Roles.Any(role => role.Hint is { Quantity: Quantity.CellNumber, IsDerived: false } || role.Hint is { Quantity: Quantity.Voltage, Number: not null }))
        {
            return null;
        }

        List<int> voltages = [.. Numbers(columns).Where(c => VoltageFinder.LooksLikeCell(columns.Roles[c]))];
        if (voltages.Count != 1)
        {
            return null;
        }

        for (int c = 0; c < columns.Roles.Length; c++)
        {
            if (columns.Roles[c].Hint.Quantity != Quantity.Unknown || Cells(columns.Roles[c]) is not { } cells || Count(cells) is not (>= 2 and <= MostCells and var count) || !Cycles(cells, count))
            {
                continue;
            }

            int time = Enumerable.Range(0, columns.Roles.Length).FirstOrDefault(t => t != c && t != voltages[0] && columns.Roles[t].Hint.Quantity is Quantity.Unknown or Quantity.Elapsed && StandsStill(columns.Roles[t], cells), -1);
            if (time >= 0 && MayBeTurnedRound(columns.Roles[time], cells) && !MomentsAreProved(columns, cells, [c, time, voltages[0]]))
            {
                columns.Refuse(
                    "ambiguous-cells", 0, columns.Roles[c], $"column {c + 1} could number the cells and column {time + 1} tell the time, or the other way round",
                    "name the columns in a header, for instance time_s, cell, cell_v");
                return null;
            }

            if (time >= 0)
            {
                return new Dictionary<int, HeaderHint>
                {
                    [c] = new(Quantity.CellNumber, Unit.None, true, false, null, false, false, false, false),
                    [voltages[0]] = new(Quantity.Voltage, columns.Roles[voltages[0]].Hint.Unit, false, false, null, false, false, false, false),
                    [time] = new(Quantity.Elapsed, columns.Roles[time].Hint.Unit, false, false, null, false, false, false, false),
                };
            }
        }

        return null;
    }

    private static IEnumerable<int> Numbers(LogColumns columns) =>
        Enumerable.Range(0, columns.Roles.Length).Where(c => columns.Roles[c].Profile is { Count: > 0 });

    private static int[]? Cells(ColumnRole role)
    {
        long[] scaled = new long[role.Column.Values.Count == 0 ? 0 : role.Column.Values[0].Count];
        if (scaled.Length == 0 || role.Column.Present < scaled.Length)
        {
            return null;
        }

        BlockCodec.Decode(role.Column.Values[0], scaled);
        if (role.Profile is { Min: 0 or 1, Max: <= MostCells, IsConstant: false } && role.Column.MaxDecimals == 0)
        {
            return [.. scaled.Select(value => (int)value)];
        }

        if (role.Column.Shape == ColumnShape.Text && !role.Column.TooManyWords && role.Column.Words.Count is > 1 and <= MostCells)
        {
            int[] numbers = [.. role.Column.Words.Select(CellLabels.NumberIn)];
            return numbers.Min() is 0 or 1 && numbers.Distinct().Count() == numbers.Length ? [.. scaled.Select(value => numbers[(int)value])] : null;
        }

        return null;
    }

    private static int Count(int[] cells) => cells.Max() - cells.Min() + 1;

    // Some rows may be missing, so not each step has to be to the next cell.
    private static bool Cycles(int[] cells, int count)
    {
        int least = cells.Min();
        int steps = Enumerable.Range(1, cells.Length - 1).Count(i => cells[i] - least == (cells[i - 1] - least + 1) % count);
        return steps >= 0.6 * (cells.Length - 1) && cells.Distinct().Count() == count;
    }

    // All rows of one cell and then all of the next, with a time that begins anew for each, have the same form.
    private static bool MayBeTurnedRound(ColumnRole time, int[] cells) =>
        Cells(time) is { } others && Count(others) is >= 2 and <= MostCells && others.Distinct().Count() == Count(others)
        && Enumerable.Range(1, cells.Length - 1).All(i => others[i] != others[i - 1] ? others[i] == others[i - 1] + 1 : cells[i] > cells[i - 1]);

    // What is one value for all cells of a moment, and another in the next, tells the moments.
    private static bool MomentsAreProved(LogColumns columns, int[] cells, int[] known) =>
        Numbers(columns).Any(c => !known.Contains(c) && columns.Roles[c].Column.Present >= cells.Length
            && !columns.Roles[c].Profile!.IsConstant && StandsStillWithin(columns.Roles[c].Column, cells));

    private static bool StandsStillWithin(RawColumn column, int[] cells)
    {
        long[] values = new long[cells.Length];
        BlockCodec.Decode(column.Values[0], values);
        return Enumerable.Range(1, cells.Length - 1).All(i => cells[i] <= cells[i - 1] || values[i] == values[i - 1]);
    }

    private static bool StandsStill(ColumnRole role, int[] cells)
    {
        if (role.Column.Shape is not (ColumnShape.Number or ColumnShape.Time) || role.Column.Present < cells.Length)
        {
            return false;
        }

        long[] values = new long[cells.Length];
        BlockCodec.Decode(role.Column.Values[0], values);
        int within = 0;
        int still = 0;
        int between = 0;
        int risen = 0;
        for (int i = 1; i < cells.Length; i++)
        {
            if (cells[i] > cells[i - 1])
            {
                within++;
                still += values[i] == values[i - 1] ? 1 : 0;
            }
            else
            {
                between++;
                risen += values[i] > values[i - 1] ? 1 : 0;
            }
        }

        return within > 0 && between > 0 && still >= 0.95 * within && risen >= 0.9 * between;
    }
}
