using System.Globalization;

namespace PackCare.Import.Meanings;

/// <summary>
/// Points at a cell that stays where the current steps and the others answer: one current flows through all of them, so its column was shifted, sorted,
/// or belongs to another log, or its lead has no contact.
/// </summary>
internal static class CellsApart
{
    private const int FewestSteps = 3;

    // Of what the others do.
    private const double MostOfOthers = 0.25;
    private const double MostSteps = 0.75;

    // Volts of a cell.
    private const double LeastVolts = 0.02;

    /// <summary>Tells of the first as a notice.</summary>
    internal static void Tell(FlowLog log, FlowRows rows)
    {
        List<ColumnRole> cells = log.Columns.Cells;
        if (cells.Count < 2)
        {
            return;
        }

        int known = cells[0].Values[0].Count;
        double least = Math.Max(LeastVolts, (8 * rows.Noise) + (4 * rows.Digit));
        int[] steps = [.. Enumerable.Range(1, Math.Max(0, rows.Rows.Count - 1)).Where(i => Math.Abs(rows.AmpsSince(i)) > UnmatchedSteps.LargeStep * rows.Largest && UnmatchedSteps.IsLevel(rows, i)
            && Math.Abs(UnmatchedSteps.Level(rows, i, row => row.Volts)) > least && UnmatchedSteps.AreConsecutive(rows, i, known))];
        if (steps.Length < FewestSteps)
        {
            return;
        }

        double[][] volts = [.. cells.Select(cell => cell.FirstValues)];
        double[] answers = new double[cells.Count];
        int[] stays = new int[cells.Count];
        int[] first = new int[cells.Count];
        int asked = 0;
        foreach (int row in steps.Select(i => rows.Rows[i].Number))
        {
            for (int c = 0; c < cells.Count; c++)
            {
                answers[c] = RowMath.Middle(volts[c], row) - RowMath.Middle(volts[c], row - UnmatchedSteps.Beside);
            }

            double most = answers.MaxBy(Math.Abs);
            if (answers.Any(double.IsNaN) || Math.Abs(most) < least)
            {
                continue;
            }

            asked++;
            for (int c = 0; c < cells.Count; c++)
            {
                double[] others = [.. answers.Where((_, other) => other != c)];
                if (answers[c] * Math.Sign(most) < MostOfOthers * Selection.At(others, others.Length / 2) * Math.Sign(most))
                {
                    first[c] = stays[c]++ == 0 ? row : first[c];
                }
            }
        }

        int[] apart = [.. Enumerable.Range(0, cells.Count).Where(c => stays[c] >= FewestSteps && stays[c] >= MostSteps * asked)];
        if (apart.Length > 0 && apart.Length * 2 <= cells.Count)
        {
            ColumnRole cell = cells[apart[0]];
            log.Columns.Notice(
                "cell-apart", first[apart[0]], cell, string.Create(CultureInfo.InvariantCulture, $"cell {cell.Number}, which stays in {stays[apart[0]]} of {asked} steps of the current to which the other cells answer, here for one"),
                "check the column, it may have been moved or sorted by itself, and the balance lead; it was kept as logged");
        }
    }
}
