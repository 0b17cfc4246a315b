using PackCare.Core.Reading;
using PackCare.Import.Meanings;
using PackCare.Import.Tables;

namespace PackCare.Import.Sessions;

/// <summary>Points at a gap that looks as if a clock had been set forward or back to nought under way: under the same load before and after it, with the cells where they were.</summary>
internal static class ClockJumps
{
    private const double MostOtherCurrent = 0.1;
    private const double MostCellStep = 0.01;
    private const double MostOfUsual = 1.5;

    // Of the largest current.
    private const double LeastLoad = 0.02;

    // Within a session: seconds, steps of the clock, rows before the gap that tell how fast the cells go, and volts that they would have gone.
    private const double LeastGap = 60;
    private const double LeastSteps = 4;
    private const int RowsBefore = 4;
    private const double LeastExpected = 0.02;
    private const double MostOfExpected = 0.25;

    /// <summary>Tells of them as notices; two sessions stay two.</summary>
    internal static void Tell(LogColumns columns, TimeAxis axis, SessionMap map)
    {
        if (columns.Single(ColumnMeaning.Current) is not { } current || columns.Cells.Count == 0)
        {
            return;
        }

        var amps = new BlockCursor(current.Values);
        BlockCursor[] cells = [.. columns.Cells.Select(cell => new BlockCursor(cell.Values))];
        double least = LeastLoad * current.Profile!.LargestMagnitude;
        (int First, int Last)[] rows = map.Bounds();
        int told = 0;
        for (int s = 1; s < map.Count; s++)
        {
            (int row, int before) = (rows[s].First, rows[s].First - 1);
            if (rows[s - 1].Last == before && rows[s - 1].First < before && rows[s].Last > row && map.Labels[s] == map.Labels[s - 1] && IsNoStep(row) && IsSameLoad(before, row) && Went(before, row) <= Math.Max(MostCellStep, MostOfUsual * Went(before - 1, before)))
            {
                Tell(row, "a session of its own was begun here; if it is the same one, correct the times");
            }
        }

        double[] seconds = axis.Seconds(0);
        foreach (Segment segment in map.Segments.Where(segment => segment.End <= seconds.Length))
        {
            for (int row = segment.Start + RowsBefore + 1; row < segment.End; row++)
            {
                double gap = seconds[row] - seconds[row - 1];

                // A clock of whole minutes gives one of them to several rows.
                bool isCoarse = !(seconds[row - 1] > seconds[row - 2]);
                if (isCoarse || !IsLong(gap, seconds[row - 1] - seconds[row - 2]) || !IsSameLoad(row - 1, row) || !IsSameLoad(row - 1 - RowsBefore, row - 1))
                {
                    continue;
                }

                double expected = Went(row - 1 - RowsBefore, row - 1) / (seconds[row - 1] - seconds[row - 1 - RowsBefore]) * gap;
                if (expected >= LeastExpected && Went(row - 1, row) < MostOfExpected * expected)
                {
                    Tell(row, "have a look; the times were kept as logged");
                }
            }
        }

        bool IsNoStep(int row) => axis.SecondsAt(row) - axis.SecondsAt(row - 1) is var gap && (gap < 0 || IsLong(gap, axis.SecondsAt(row - 1) - axis.SecondsAt(row - 2)));

        bool IsSameLoad(int before, int row) => Math.Abs(amps.ValueAt(row)) > least && Math.Abs(amps.ValueAt(row) - amps.ValueAt(before)) <= MostOtherCurrent * Math.Abs(amps.ValueAt(row));

        // How far the cell went that went furthest, in volts.
        double Went(int before, int row) => cells.Zip(columns.Cells).Max(cell => Math.Abs(cell.First.ValueAt(row) - cell.First.ValueAt(before)) * cell.Second.Factor);

        void Tell(int row, string advice)
        {
            if (told++ < OddRows.MostTold)
            {
                columns.Notice(
                    "clock-jumps", row, null, axis.SecondsAt(row) - axis.SecondsAt(row - 1) is > 0 and var gap
                        ? $"a gap of {Span(gap)} across which current and cells go on as if there were none: the clock may have been set"
                        : "a time that begins anew while current and cells go on as if it did not: the clock may have been reset", advice);
            }
        }
    }

    private static bool IsLong(double gap, double usual) => gap >= LeastGap && gap >= LeastSteps * usual;

    private static string Span(double seconds) => seconds >= 7200 ? FormattableString.Invariant($"{seconds / 3600:0.#} h") : FormattableString.Invariant($"{seconds / 60:0.#} min");
}
