namespace PackCare.Import.Meanings;

/// <summary>
/// Finds, among columns without telling headers that lie where cells do, one that does not keep company with the others: a current of three to
/// four amperes, or a setting, looks like a cell until the cells move.
/// </summary>
internal static class StrangerAmongCells
{
    private const int LeastDigits = 3;
    private const int MostRows = 4096;

    /// <summary>The first such column, or null.</summary>
    /// <param name="cells">Columns that would be taken for cells.</param>
    internal static ColumnRole? Of(List<ColumnRole> cells) => ByDigits(cells) ?? ByCourse(cells);

    // Cells are written with the same digits, where all columns are written with a fixed number of them.
    private static ColumnRole? ByDigits(List<ColumnRole> cells)
    {
        if (cells.Exists(role => role.Column.MinDecimals != role.Column.MaxDecimals))
        {
            return null;
        }

        var groups = cells.GroupBy(role => role.Column.MaxDecimals).OrderBy(group => group.Count()).ToList();
        return groups.Count > 1 ? groups[0].First() : null;
    }

    // All others move one way, further than digits and flicker can take them, and one goes its own way.
    private static ColumnRole? ByCourse(List<ColumnRole> cells)
    {
        double[][] volts = [.. cells.Select(role => LogColumns.Values(role, 0, VoltageFinder.Factor(role), Math.Min(MostRows, role.Values[0].Count)))];
        double[] went = [.. volts.Select(Went)];
        double digit = cells.Max(role => Math.Pow(10, -role.Column.MaxDecimals) * VoltageFinder.Factor(role));
        for (int c = 0; c < cells.Count; c++)
        {
            double[] others = [.. went.Where((_, i) => i != c)];
            double least = others.Min(Math.Abs);
            if (others.All(other => Math.Sign(other) == Math.Sign(others[0])) && others.Max(Math.Abs) <= 2.5 * least && least >= (LeastDigits - 0.01) * digit)
            {
                double[] mean = MeanWithout(volts, c);
                if (least >= 3 * UsualStep(mean) && Correlation(volts[c], mean) < 0.3)
                {
                    return cells[c];
                }
            }
        }

        return null;
    }

    // From the middle of the first rows to that of the last ones, so that no single reading decides.
    private static double Went(double[] volts)
    {
        double[] values = [.. volts.Where(double.IsFinite)];
        int few = Math.Clamp(values.Length / 6, 1, 5);
        return values.Length < 2 ? 0 : Middle(values[^few..]) - Middle(values[..few]);
    }

    private static double[] MeanWithout(double[][] volts, int one)
    {
        var mean = new double[volts[one].Length];
        for (int i = 0; i < mean.Length; i++)
        {
            mean[i] = volts.Where((_, c) => c != one).Average(cell => cell[i]);
        }

        return mean;
    }

    private static double UsualStep(double[] values)
    {
        double[] steps = [.. values.Skip(1).Zip(values, (after, before) => Math.Abs(after - before)).Where(double.IsFinite)];
        return steps.Length == 0 ? 0 : Middle(steps);
    }

    private static double Correlation(double[] one, double[] other)
    {
        List<(double X, double Y)> pairs = [.. one.Zip(other).Where(pair => double.IsFinite(pair.First + pair.Second))];
        if (pairs.Count < 3)
        {
            return 1;
        }

        double x = pairs.Average(pair => pair.X);
        double y = pairs.Average(pair => pair.Y);
        double spread = pairs.Sum(pair => (pair.X - x) * (pair.X - x)) * pairs.Sum(pair => (pair.Y - y) * (pair.Y - y));
        return spread > 0 ? pairs.Sum(pair => (pair.X - x) * (pair.Y - y)) / Math.Sqrt(spread) : 0;
    }

    private static double Middle(double[] values) => Selection.At(values, values.Length / 2);
}
