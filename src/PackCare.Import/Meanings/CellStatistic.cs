namespace PackCare.Import.Meanings;

/// <summary>Finds a column among those that look like cells which is in every row the lowest, the highest or the mean of the others.</summary>
internal static class CellStatistic
{
    private const int FewestRows = 12;

    /// <summary>The column and what it is; null where there is none.</summary>
    internal static (ColumnRole Column, string What)? Of(List<ColumnRole> cells)
    {
        if (cells.Count < 3 || cells[0].Profile!.Count < FewestRows)
        {
            return null;
        }

        double[][] volts = [.. cells.Select(cell => LogColumns.Values(cell, 0, VoltageFinder.Factor(cell)))];
        for (int c = 0; c < cells.Count; c++)
        {
            double[][] others = [.. volts.Where((_, other) => other != c)];
            double digit = VoltageFinder.Factor(cells[c]) * Math.Pow(10, -cells[c].Column.MaxDecimals);
            foreach ((string what, Func<double[][], int, double> statistic, double slack) in
                new (string, Func<double[][], int, double>, double)[] { ("lowest", Lowest, 0.01 * digit), ("highest", Highest, 0.01 * digit), ("mean", Mean, 0.51 * digit) })
            {
                // The middle one of three cells may well be their mean.
                if ((what != "mean" || c == 0 || c == cells.Count - 1) && IsIt(volts[c], others, statistic, slack, isMean: what == "mean", digit))
                {
                    return (cells[c], what);
                }
            }
        }

        return null;
    }

    /// <summary>What a column is of the cells, where their headers tell which those are: the lowest, the highest or the mean; null where it is none.</summary>
    internal static string? WhatOf(ColumnRole role, List<ColumnRole> cells)
    {
        if (cells.Count < 2 || role.Profile!.Count < FewestRows)
        {
            return null;
        }

        double[] column = LogColumns.Values(role, 0, VoltageFinder.Factor(role));
        double[][] volts = [.. cells.Select(cell => cell.FirstValues)];
        double digit = VoltageFinder.Factor(role) * Math.Pow(10, -role.Column.MaxDecimals);
        return IsThroughout(Mean, 0.51 * digit) ? "mean" : IsThroughout(Lowest, 0.01 * digit) ? "lowest" : IsThroughout(Highest, 0.01 * digit) ? "highest" : null;

        bool IsThroughout(Func<double[][], int, double> statistic, double slack) => !column.Where((value, i) => !(Math.Abs(value - statistic(volts, i)) <= slack + 1e-9)).Any();
    }

    // In every row, and not always the same one of the others, whose copy it would be. A mean is one where the others are apart.
    private static bool IsIt(double[] column, double[][] others, Func<double[][], int, double> statistic, double slack, bool isMean, double digit)
    {
        int apart = 0;
        var same = new HashSet<int>();
        for (int i = 0; i < column.Length; i++)
        {
            double value = statistic(others, i);
            if (!(Math.Abs(column[i] - value) <= slack))
            {
                return false;
            }

            int[] equal = [.. Enumerable.Range(0, others.Length).Where(o => Math.Abs(others[o][i] - column[i]) <= slack)];
            if (equal.Length == 1)
            {
                same.Add(equal[0]);
            }

            apart += Highest(others, i) - Lowest(others, i) > 4 * digit ? 1 : 0;
        }

        return isMean ? apart * 2 > column.Length : same.Count > 1;
    }

    private static double Lowest(double[][] columns, int row) => columns.Min(column => column[row]);

    private static double Highest(double[][] columns, int row) => columns.Max(column => column[row]);

    private static double Mean(double[][] columns, int row) => columns.Average(column => column[row]);
}
