using PackCare.Import.Sessions;

namespace PackCare.Import.Meanings;

/// <summary>Points at a cell whose readings stay the same to the last digit while the others go on, and at all of them where current flows: the last value was kept, or filled down.</summary>
internal static class FrozenCells
{
    private const int FewestRows = 10;

    // Volts that the other cells go meanwhile, and digits of the logger.
    private const double LeastGone = 0.04;
    private const double LeastDigits = 8;

    // A cell that changes in nearly every row never stands still for long.
    private const double MostChanges = 0.9;

    // Of the largest current, and volts: coarser cells may well stay for minutes.
    private const double LargeCurrent = 0.5;
    private const double FineDigit = 0.0025;

    /// <summary>Tells of each as a notice.</summary>
    internal static void Tell(LogColumns columns, SessionMap map)
    {
        List<ColumnRole> cells = columns.Cells.FindAll(cell => cell.Profile is { Count: >= FewestRows });
        if (cells.Count == 0 || cells.TrueForAll(cell => cell.Profile!.Rises + cell.Profile.Falls > MostChanges * cell.Profile.Count))
        {
            return;
        }

        double[][] volts = [.. cells.Select(cell => cell.FirstValues)];
        if (columns.Single(Core.Reading.ColumnMeaning.Current) is { } current && cells.TrueForAll(cell => cell.LastDigit < FineDigit) && AllFrozen(volts, LogColumns.Values(current, 0, 1), LargeCurrent * current.Profile!.LargestMagnitude, map) is (int first, int rows))
        {
            columns.Notice(
                "cell-stands-still", first, cells[0], FormattableString.Invariant($"cells all of which stay the same to the last digit for {rows} rows while current flows, and change in most rows before"),
                "have a look: the voltages may have been lost from here on, or filled down; they were kept as logged");
            return;
        }

        for (int c = 0; c < cells.Count && cells.Count > 1; c++)
        {
            double least = Math.Max(LeastGone, LeastDigits * cells[c].Factor * Math.Pow(10, -cells[c].Column.MaxDecimals));
            double[][] others = [.. volts.Where((_, other) => other != c)];
            if (Frozen(volts[c], others, least, map) is (int from, int to, double went))
            {
                columns.Notice(
                    "cell-stands-still", from, cells[c], FormattableString.Invariant($"cell {cells[c].Number}, whose reading stays {volts[c][from]:0.####} V for {to - from} rows while the others go by {went * 1000:0} mV"),
                    "have a look: its lead may have come off, or the value have been filled down; it was kept as logged");
            }
        }
    }

    // Rows in which no cell changes under a large current, of cells that change in most rows before.
    private static (int From, int Rows)? AllFrozen(double[][] volts, double[] amps, double least, SessionMap map)
    {
        foreach (Segment segment in map.Segments.Where(segment => segment.Start < amps.Length))
        {
            ReadOnlySpan<double> first = volts[0].AsSpan(0, Math.Min(segment.End, amps.Length));
            int still = 0;
            for (int from = RowMath.NextRepeat(first, segment.Start + 1) - 1; from + 1 < first.Length; from = RowMath.NextRepeat(first, from + 1) - 1)
            {
                int to = from + 1;
                int flowing = 0;
                while (to < first.Length && AreSame(volts, to))
                {
                    flowing += Math.Abs(amps[to++]) > least ? 1 : 0;
                }

                int changes = from - segment.Start - still;
                if (flowing >= FewestRows && changes >= FewestRows && changes * 2 > from - segment.Start)
                {
                    return (from, to - from);
                }

                still += to - from - 1;
                from = Math.Max(to - 1, from + 1);
            }
        }

        return null;
    }

    private static bool AreSame(double[][] volts, int row)
    {
        foreach (double[] cell in volts)
        {
            if (cell[row] != cell[row - 1])
            {
                return false;
            }
        }

        return true;
    }

    private static (int From, int To, double Went)? Frozen(double[] cell, double[][] others, double least, SessionMap map)
    {
        double[] near = new double[others.Length];
        foreach (Segment segment in map.Segments.Where(segment => segment.Start < cell.Length))
        {
            ReadOnlySpan<double> rows = cell.AsSpan(0, Math.Min(segment.End, cell.Length));
            for (int i = RowMath.NextRepeat(rows, segment.Start + 1); i < rows.Length; i = RowMath.NextRepeat(rows, i + 1))
            {
                int from = i - 1;
                while (i < rows.Length && rows[i] == rows[from])
                {
                    i++;
                }

                if (i - from >= FewestRows && RangeOf(others, from, i, near) is var went && went > least)
                {
                    return (from, i, went);
                }
            }
        }

        return null;
    }

    private static double RangeOf(double[][] columns, int from, int to, double[] near)
    {
        (double lowest, double highest) = (double.PositiveInfinity, double.NegativeInfinity);
        for (int row = from; row < to; row++)
        {
            double middle = RowMath.MedianOf(columns, row, near);
            (lowest, highest) = double.IsNaN(middle) ? (lowest, highest) : (Math.Min(lowest, middle), Math.Max(highest, middle));
        }

        return highest - lowest;
    }
}
