using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Import.Meanings;
using PackCare.Import.Tables;

namespace PackCare.Import.Sessions;

/// <summary>Points at a session that begins as if a clock had been set forward under way: whole hours after the one before, under the same load, with the cells where they were.</summary>
internal static class ClockJumps
{
    private const double Hour = 3600;

    // Summer time, and what a clock in another zone is put right by.
    private const int MostHours = 14;
    private const double MostSteps = 2;
    private const double MostOtherCurrent = 0.1;
    private const double MostCellStep = 0.01;

    /// <summary>Tells of them as a notice; two sessions stay two.</summary>
    internal static void Tell(LogColumns columns, TimeAxis axis, SessionMap map)
    {
        if (map.Count < 2 || !(axis.IsAbsolute || axis.IsTimeOfDay) || columns.Single(ColumnMeaning.Current) is not { } current || columns.Cells.Count == 0)
        {
            return;
        }

        var amps = new BlockCursor(current.Values);
        BlockCursor[] cells = [.. columns.Cells.Select(cell => new BlockCursor(cell.Values))];
        (int First, int Last)[] rows = map.Bounds();
        for (int s = 1; s < map.Count; s++)
        {
            (int row, int before) = (rows[s].First, rows[s].First - 1);
            if (rows[s - 1].Last != before || rows[s - 1].First == before || rows[s].Last == row)
            {
                continue;
            }

            double gap = axis.SecondsAt(row) - axis.SecondsAt(before);
            double step = axis.SecondsAt(before) - axis.SecondsAt(before - 1);
            double hours = Math.Round((gap - step) / Hour);
            double now = amps.ValueAt(row);
            if (hours is >= 1 and <= MostHours && Math.Abs(gap - step - (hours * Hour)) <= MostSteps * step
                && Math.Abs(now) > 0.02 * current.Profile!.LargestMagnitude && Math.Abs(now - amps.ValueAt(before)) <= MostOtherCurrent * Math.Abs(now)
                && cells.Zip(columns.Cells).All(cell => Math.Abs(cell.First.ValueAt(row) - cell.First.ValueAt(before)) * cell.Second.Factor <= MostCellStep))
            {
                columns.Notice(
                    "clock-jumps", row, null, string.Create(CultureInfo.InvariantCulture, $"a gap of {hours:0} h across which current and cells go on as if there were none: the clock may have been set"),
                    "a session of its own was begun here; if it is the same one, correct the times");
            }
        }
    }
}
