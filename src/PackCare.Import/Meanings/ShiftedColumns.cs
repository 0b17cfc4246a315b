namespace PackCare.Import.Meanings;

/// <summary>
/// Finds rows in which values stand one column beside their own: a field is empty there, and what stands beside it goes on from what its
/// neighbour had in the row before.
/// </summary>
internal static class ShiftedColumns
{
    private const int MostGaps = 50;
    private const int MostSteps = 4096;

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

        double[]?[] values = [.. roles.Select(role => role is null ? null : LogColumns.Values(role, 0, 1))];
        double[] usual = [.. values.Zip(roles).Select(pair => pair.First is null ? 0 : UsualStep(pair.First) + Math.Pow(10, -pair.Second!.Column.MaxDecimals))];
        int gaps = 0;
        for (int c = 0; c < roles.Length; c++)
        {
            if (roles[c] is not { Profile.Missing: > 0 })
            {
                continue;
            }

            double[] column = values[c]!;
            for (int row = 1; row < column.Length && gaps < MostGaps; row++)
            {
                if (!double.IsNaN(column[row]) || double.IsNaN(column[row - 1]))
                {
                    continue;
                }

                gaps++;
                if (IsShifted(values, usual, row, c + 1, roles.Length, -1) || Enumerable.Range(0, c).Any(from => IsShifted(values, usual, row, from, c, 1)))
                {
                    columns.Refuse("columns-shifted", row, roles[c], $"a row without a value in column {c + 1}, in which the columns beside it hold what their neighbours held before", "correct that line and those after it");
                    return;
                }
            }
        }
    }

    // Whether, from one column to another, values go on from those of the neighbour and not from their own.
    private static bool IsShifted(double[]?[] values, double[] usual, int row, int from, int to, int neighbour)
    {
        int shifted = 0;
        int kept = 0;
        bool decisive = false;
        for (int c = from; c < to; c++)
        {
            if (values[c] is not { } own || values[c + neighbour] is not { } other)
            {
                continue;
            }

            double stays = Math.Abs(own[row] - own[row - 1]);
            double moves = Math.Abs(own[row] - other[row - 1]);
            if (stays > 4 * usual[c] && moves < stays / 3)
            {
                shifted++;
                decisive |= stays > 50 * usual[c] && moves <= 4 * Math.Max(usual[c], usual[c + neighbour]);
            }
            else if (moves > 4 * usual[c] && stays < moves / 3)
            {
                kept++;
            }
        }

        return kept == 0 ? decisive || (shifted >= 1 && shifted * 2 >= to - from) : (shifted - kept) * 2 >= to - from;
    }

    private static double UsualStep(double[] values)
    {
        var steps = new List<double>();
        for (int row = 1; row < values.Length && steps.Count < MostSteps; row++)
        {
            double step = Math.Abs(values[row] - values[row - 1]);
            if (!double.IsNaN(step))
            {
                steps.Add(step);
            }
        }

        steps.Sort();
        return steps.Count == 0 ? 0 : steps[steps.Count / 2];
    }
}
