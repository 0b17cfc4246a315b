using PackCare.Import.Sessions;

namespace PackCare.Import.Meanings;

/// <summary>
/// Looks for a voltage that from one row on lies elsewhere among the others while those stay: a column that was damaged, or exchanged, from there on. A
/// step of the current moves all cells.
/// </summary>
internal static class LastingJumps
{
    // Rows on either side; of them the middle one counts.
    private const int Beside = 3;

    // Volts of a cell: a balancer that sets in takes less. Common practice, no source.
    private const double LeastJump = 0.03;

    /// <summary>Volts: less is what balancers, noise and digits do.</summary>
    internal const double LeastExchange = 0.006;

    // Of the jump.
    private const double MostOther = 0.25;
    private const double MostStray = 0.2;

    // Of the sum of the cells.
    private const double LeastShare = 0.008;

    /// <summary>Looks at some rows.</summary>
    /// <param name="volts">The cells, in volts, as many rows of each as are looked at.</param>
    /// <param name="count">The rows.</param>
    /// <param name="digit">The last digit of the cells, in volts.</param>
    /// <param name="start">The row of the log that is the first of these.</param>
    /// <param name="map">Sessions.</param>
    /// <param name="found">Where what is found is put.</param>
    internal static void FindInCells(double[][] volts, int count, double digit, int start, SessionMap map, OddVoltages found)
    {
        double least = Math.Max(LeastExchange, 3.5 * digit);
        for (int c = 0; c + 1 < volts.Length; c++)
        {
            for (int i = RowMath.NextPartingOver(volts[c].AsSpan(0, count), volts[c + 1], 1, least); i < count; i = RowMath.NextPartingOver(volts[c].AsSpan(0, count), volts[c + 1], i + 1, least))
            {
                (double one, double other) = (volts[c][i] - volts[c][i - 1], volts[c + 1][i] - volts[c + 1][i - 1]);
                bool isLoad = one * other > 0 && Math.Min(Math.Abs(one), Math.Abs(other)) > MostOther * Math.Max(Math.Abs(one), Math.Abs(other));
                if (isLoad || found.Crossed is not null || !IsWithin(map, start, i, count))
                {
                    continue;
                }

                Judge(volts, i, start + i, c, Math.Max(LeastJump, 5 * digit), least, found);
            }
        }
    }

    /// <summary>Looks for a pack voltage that leaves the sum of the cells while those stay.</summary>
    /// <param name="gaps">The pack voltage less the cells', in volts.</param>
    /// <param name="count">The rows.</param>
    /// <param name="volts">The cells.</param>
    /// <param name="digit">The last digit of the pack voltage, in volts.</param>
    /// <param name="start">The row of the log that is the first of these.</param>
    /// <param name="map">Sessions.</param>
    /// <returns>The rows, and how far it is off before and from there on, in volts.</returns>
    internal static IEnumerable<(int Row, double Before, double After)> FindInPack(double[] gaps, int count, double[][] volts, double digit, int start, SessionMap map)
    {
        double least = Math.Max(LeastJump * Math.Sqrt(volts.Length), 5 * digit);
        for (int i = RowMath.NextStepOver(gaps.AsSpan(0, count), 1, least); i < count; i = RowMath.NextStepOver(gaps.AsSpan(0, count), i + 1, least))
        {
            if (!IsWithin(map, start, i, count))
            {
                continue;
            }

            (double before, double after) = (RowMath.Middle(gaps, i - Beside), RowMath.Middle(gaps, i));
            double jump = Math.Abs(after - before);
            double moved = Math.Abs(volts.Sum(cell => RowMath.Middle(cell, i) - RowMath.Middle(cell, i - Beside)));
            if (jump > Math.Max(least, LeastShare * volts.Sum(cell => cell[i])) && moved < MostOther * jump && Stray(gaps, i - Beside) < MostStray * jump && Stray(gaps, i) < MostStray * jump)
            {
                yield return (start + i, before, after);
            }
        }
    }

    private static void Judge(double[][] volts, int i, int row, int c, double leastJump, double leastExchange, OddVoltages found)
    {
        double[] jumps = [.. volts.Select(cell => RowMath.Middle(cell, i) - RowMath.Middle(cell, i - Beside))];
        int one = Math.Abs(jumps[c]) >= Math.Abs(jumps[c + 1]) ? c : c + 1;
        double jump = Math.Abs(jumps[one]);
        if (!(jump > leastExchange) || Stray(volts[one], i - Beside) > MostStray * jump || Stray(volts[one], i) > MostStray * jump)
        {
            return;
        }

        int[] moved = [.. Enumerable.Range(0, jumps.Length).Where(other => other != one && !(Math.Abs(jumps[other]) < MostOther * jump))];
        if (moved.Length == 0)
        {
            if (jump > leastJump && !found.Jumps.Exists(told => told.Cell == one))
            {
                found.Jumps.Add((row, one));
            }

            return;
        }

        // Each goes on where the other was.
        if (moved is [var twin] && volts.Length > 2 && Stray(volts[twin], i - Beside) < MostStray * jump && Stray(volts[twin], i) < MostStray * jump
            && Math.Abs(RowMath.Middle(volts[one], i) - RowMath.Middle(volts[twin], i - Beside)) < MostStray * jump && Math.Abs(RowMath.Middle(volts[twin], i) - RowMath.Middle(volts[one], i - Beside)) < MostStray * jump)
        {
            found.Crossed = (row, Math.Min(one, twin), Math.Max(one, twin));
        }
    }

    private static bool IsWithin(SessionMap map, int start, int i, int count) =>
        i >= Beside && i + Beside <= count && map.SegmentOf(start + i) is var segment && start + i - Beside >= segment.Start && start + i + Beside <= segment.End;

    private static double Stray(double[] values, int from)
    {
        double most = Math.Max(values[from], Math.Max(values[from + 1], values[from + 2]));
        double stray = most - Math.Min(values[from], Math.Min(values[from + 1], values[from + 2]));
        return double.IsNaN(stray) ? double.PositiveInfinity : stray;
    }
}
