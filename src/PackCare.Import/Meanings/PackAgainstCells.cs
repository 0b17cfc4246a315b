using System.Globalization;
using PackCare.Core.Reading;

namespace PackCare.Import.Meanings;

/// <summary>
/// Points at a pack voltage that keeps to the sum of the cells on the whole, and strays from it from row to row by more than leads and meters account for:
/// one of the columns was moved, sorted or turned round.
/// </summary>
internal static class PackAgainstCells
{
    private const int FewestRows = 10;

    // Of the sum, and digits of the pack voltage.
    private const double MostStray = 0.012;
    private const double MostDigits = 6;

    /// <summary>Whether some row is far from the first.</summary>
    /// <param name="gaps">The pack voltage less the sum of the cells, in volts.</param>
    /// <param name="volts">The cells.</param>
    internal static bool MayStray(ReadOnlySpan<double> gaps, double[][] volts)
    {
        int first = 0;
        while (first < gaps.Length && !double.IsFinite(gaps[first]))
        {
            first++;
        }

        return first < gaps.Length && RowMath.NextAwayFrom(gaps, gaps[first], MostStray / 2 * volts.Sum(cell => cell[first])) < gaps.Length;
    }

    /// <summary>Tells of it as a notice, at the row that strays most.</summary>
    /// <param name="columns">The columns.</param>
    /// <param name="voltages">What was found of the voltages.</param>
    internal static void Tell(LogColumns columns, OddVoltages voltages)
    {
        if (voltages.Gaps is not { Length: >= FewestRows } gaps || columns.Single(ColumnMeaning.PackVoltage) is not { } pack || columns.Problems.Exists(problem => problem.Code == "pack-not-sum"))
        {
            return;
        }

        double sum = columns.Cells.Sum(cell => (cell.Profile!.Min + cell.Profile.Max) / 2 * cell.Factor);
        if (columns.Single(ColumnMeaning.Current) is { } current)
        {
            TakeOffLeads(gaps, LogColumns.Values(current, 0, 1));
        }

        double most = Math.Max(MostStray * sum, MostDigits * pack.LastDigit);
        double[] known = [.. gaps.Where(double.IsFinite)];
        if (known.Length < FewestRows)
        {
            return;
        }

        double middle = Selection.At(known, known.Length / 2);
        double stray = Selection.At(known, known.Length * 19 / 20) - Selection.At(known, known.Length / 20);
        if (stray > most)
        {
            int row = Enumerable.Range(0, gaps.Length).Where(i => double.IsFinite(gaps[i])).MaxBy(i => Math.Abs(gaps[i] - middle));
            columns.Notice(
                "pack-not-sum", row, pack, string.Create(CultureInfo.InvariantCulture, $"a pack voltage that strays from the sum of the cells by {stray:0.##} V over the log, and most of all here"),
                "have a look: a column may have been moved or sorted by itself; all were kept as logged");
        }
    }

    // What leads take goes with the current.
    private static void TakeOffLeads(double[] gaps, double[] amps)
    {
        (double count, double meanGap, double meanAmps) = (0, 0, 0);
        for (int i = 0; i < gaps.Length; i++)
        {
            if (double.IsFinite(gaps[i] + amps[i]))
            {
                (count, meanGap, meanAmps) = (count + 1, meanGap + gaps[i], meanAmps + amps[i]);
            }
        }

        (meanGap, meanAmps) = (meanGap / count, meanAmps / count);
        (double product, double square) = (0, 0);
        for (int i = 0; i < gaps.Length; i++)
        {
            if (double.IsFinite(gaps[i] + amps[i]))
            {
                product += (gaps[i] - meanGap) * (amps[i] - meanAmps);
                square += (amps[i] - meanAmps) * (amps[i] - meanAmps);
            }
        }

        double ohms = square > 0 ? product / square : 0;
        for (int i = 0; i < gaps.Length; i++)
        {
            gaps[i] -= ohms * amps[i];
        }
    }
}
