namespace PackCare.Import.Meanings;

/// <summary>
/// Finds rows in which values stand one column beside their own: a field is empty there, and what stands beside it goes on from what its
/// neighbour had in the row before. Where a reading is missing while the load changes, the others move as well, but they lie between their own
/// values before and after, or move alike.
/// </summary>
internal sealed class ShiftedColumns
{
    private const int MostGaps = 50;
    private const int MostSteps = 4096;

    private readonly ColumnRole?[] _roles;
    private readonly double[]?[] _values;
    private readonly double[] _usualSteps;
    private readonly double[] _usualStrays;
    private readonly int[] _cells;

    private ShiftedColumns(ColumnRole?[] roles)
    {
        _roles = roles;
        _values = [.. roles.Select(role => role is null ? null : LogColumns.Values(role, 0, 1))];
        _usualSteps = [.. roles.Zip(_values, (role, values) => Usual(role, values, (column, row) => Stray(column, row, isOver: false)))];
        _usualStrays = [.. roles.Zip(_values, (role, values) => Usual(role, values, (column, row) => Stray(column, row, isOver: row + 1 < column.Length)))];
        _cells = [.. Enumerable.Range(0, roles.Length).Where(c => roles[c] is { } role && VoltageFinder.LooksLikeCell(role))];
    }

    /// <summary>Refuses a log with such a row.</summary>
    internal static void Check(LogColumns columns)
    {
        ColumnRole?[] roles = new ColumnRole?[columns.Table.Frame.Width];
        foreach (var group in columns.Roles.GroupBy(role => role.Column.Index).Where(group => group.Count() == 1 && group.Key < roles.Length))
        {
            roles[group.Key] = group.First().Profile is { Count: > 0 } ? group.First() : null;
        }

        if (Array.TrueForAll(roles, role => role is null || role.Profile!.Missing == 0))
        {
            return;
        }

        new ShiftedColumns(roles).RefuseFirst(columns);
    }

    private void RefuseFirst(LogColumns columns)
    {
        int gaps = 0;
        List<double[]> words = [.. columns.Roles.Where(role => role.Column is { Shape: Tables.ColumnShape.Text, Present: > 0, TooManyWords: false }).Select(role => LogColumns.Values(role, 0, 1))];
        for (int c = 0; c < _roles.Length; c++)
        {
            if (_roles[c] is not { Profile.Missing: > 0 } role)
            {
                continue;
            }

            double[] column = _values[c]!;
            for (int row = 0; row + 1 < column.Length || (row > 0 && row < column.Length); row++)
            {
                if (gaps == MostGaps)
                {
                    break;
                }

                if (!double.IsNaN(column[row]) || double.IsNaN(column[row == 0 ? 1 : row - 1]))
                {
                    continue;
                }

                gaps++;

                // From here on rows of another pack, which has fewer cells.
                if (row > 0 && words.Exists(values => values[row] != values[row - 1]))
                {
                    continue;
                }

                if (IsShifted(row, c, c + 1, _roles.Length, -1) || Enumerable.Range(0, c).Any(from => IsShifted(row, c, from, c, 1)))
                {
                    columns.Refuse("columns-shifted", row, role, $"a row without a value in column {c + 1}, in which the columns beside it hold what their neighbours held before", "correct that line and those after it");
                    return;
                }
            }
        }
    }

    // Whether, from one column to another, values belong to those of the neighbour and not to their own.
    private bool IsShifted(int row, int gap, int from, int to, int neighbour)
    {
        int shifted = 0;
        int kept = 0;
        bool decisive = false;
        bool isOver = row + 1 < _values[gap]!.Length && !double.IsNaN(_values[gap]![row + 1]);
        bool loadChanged = row > 0 && LoadChanged(row, from, to, neighbour);
        for (int c = from; c < to; c++)
        {
            // One that had no reading before tells nothing of where it goes on from.
            if (_values[c] is not { } own || _values[c + neighbour] is not { } other || (row > 0 && double.IsNaN(own[row - 1])))
            {
                continue;
            }

            double stays = Nearest(own[row], own, row, isOver);
            double moves = Nearest(own[row], other, row, isOver);
            double least = Math.Max(_usualSteps[c], _usualSteps[c + neighbour]);
            bool isAstray = row > 0 && Stray(own, row, isOver) > 50 * (isOver ? _usualStrays : _usualSteps)[c];
            if ((isAstray || stays > 4 * _usualSteps[c]) && moves < stays / 3 && moves <= 20 * least)
            {
                if (!loadChanged || !MovesLikeOtherCells(row, c, stays / 3))
                {
                    shifted++;
                    decisive |= (isAstray || stays > 50 * _usualSteps[c]) && moves <= 4 * least;
                }
            }
            else if (moves > 4 * _usualSteps[c] && stays < moves / 3)
            {
                kept++;
            }
        }

        return kept == 0 ? decisive || (shifted >= 1 && shifted * 2 >= to - from) : (shifted - kept) * 2 >= to - from;
    }

    // How far a value is from the one before; where the gap is over in the next row, from all that lies between the two.
    private static double Stray(double[] column, int row, bool isOver)
    {
        double before = row == 0 ? double.NaN : column[row - 1];
        double after = isOver && !double.IsNaN(column[row + 1]) ? column[row + 1] : before;
        before = double.IsNaN(before) ? after : before;
        return Math.Max(0, Math.Max(Math.Min(before, after) - column[row], column[row] - Math.Max(before, after)));
    }

    // How far a value is from the nearer one of those that another column holds before and after.
    private static double Nearest(double value, double[] column, int row, bool isOver)
    {
        double before = row == 0 ? double.NaN : Math.Abs(value - column[row - 1]);
        double after = isOver ? Math.Abs(value - column[row + 1]) : double.NaN;
        return after < before || double.IsNaN(before) ? after : before;
    }

    // Whether something else than a cell, in its own place, jumps.
    private bool LoadChanged(int row, int from, int to, int neighbour)
    {
        for (int c = 0; c < _roles.Length; c++)
        {
            if (_values[c] is { } own && !_cells.Contains(c) && Math.Abs(own[row] - own[row - 1]) is var jump && jump > 10 * _usualSteps[c]
                && (c < from || c >= to || _values[c + neighbour] is not { } other || Math.Abs(own[row] - other[row - 1]) > jump / 3))
            {
                return true;
            }
        }

        return false;
    }

    private bool MovesLikeOtherCells(int row, int cell, double within)
    {
        double[] moves = [.. _cells.Where(c => c != cell).Select(c => _values[c]![row] - _values[c]![row - 1]).Where(move => !double.IsNaN(move)).Order()];
        return _cells.Contains(cell) && moves.Length > 0 && Math.Abs(_values[cell]![row] - _values[cell]![row - 1] - moves[moves.Length / 2]) < within;
    }

    private static double Usual(ColumnRole? role, double[]? values, Func<double[], int, double> distance)
    {
        if (role is null || values is null)
        {
            return 0;
        }

        var distances = new List<double>();
        for (int row = 1; row < values.Length && distances.Count < MostSteps; row++)
        {
            double found = distance(values, row);
            if (!double.IsNaN(found))
            {
                distances.Add(found);
            }
        }

        distances.Sort();
        return Math.Pow(10, -role.Column.MaxDecimals) + (distances.Count == 0 ? 0 : distances[distances.Count / 2]);
    }
}
