using System.Globalization;
using PackCare.Import.Meanings;

namespace PackCare.Import.Sessions;

/// <summary>
/// Finds rows of another log that were put in between: the time begins anew, and later goes on where it had got before; and parts of one log in the
/// wrong order: the second ends where the first begins.
/// </summary>
internal static class PastedRows
{
    private const double MostSteps = 1.5;
    private const double LeastJump = 5;

    /// <summary>Refuses a log with such rows.</summary>
    internal static void Check(LogColumns columns, TimeAxis axis, SessionMap map, ColumnRole time)
    {
        (int First, int Last)[] rows = map.Bounds();
        for (int s = 1; s < rows.Length; s++)
        {
            (int first, int last) = rows[s - 1];
            if (last != rows[s].First - 1 || last == first || rows[s].Last - rows[s].First < 2)
            {
                continue;
            }

            double ended = axis.SecondsAt(last);
            double step = ended - axis.SecondsAt(last - 1);
            double lead = axis.SecondsAt(first) - axis.SecondsAt(rows[s].Last);
            if (step > 0 && axis.SecondsAt(rows[s].First) < ended && lead > 0 && lead <= MostSteps * step)
            {
                columns.Refuse(
                    "time-backwards", rows[s].First, time, string.Create(CultureInfo.InvariantCulture, $"rows that end at line {columns.Table.LineOf(rows[s].Last)} where those of line {columns.Table.LineOf(first)} begin: parts of one log in the wrong order"),
                    "put the rows in the order of their times");
                return;
            }

            double own = axis.SecondsAt(rows[s].First + 1) - axis.SecondsAt(rows[s].First);
            if (!(axis.SecondsAt(rows[s].First) < ended) || !(axis.SecondsAt(rows[s].Last) > ended) || !(step > 0))
            {
                continue;
            }

            int row = FirstOver(axis, rows[s], ended);
            double jump = axis.SecondsAt(row) - axis.SecondsAt(row - 1);
            double next = row < rows[s].Last ? axis.SecondsAt(row + 1) - axis.SecondsAt(row) : step;
            if (axis.SecondsAt(row) - ended <= MostSteps * step && jump > LeastJump * Math.Max(own, step) && Math.Abs(next - step) <= step / 2)
            {
                columns.Refuse(
                    "time-backwards", rows[s].First, time, string.Create(CultureInfo.InvariantCulture, $"rows of another log, up to line {columns.Table.LineOf(row - 1)}: the time begins anew here, and then goes on where it had got before"),
                    "remove those lines, or split the file");
                return;
            }
        }
    }

    private static int FirstOver(TimeAxis axis, (int First, int Last) rows, double seconds)
    {
        (int below, int over) = rows;
        while (over - below > 1)
        {
            int middle = below + ((over - below) / 2);
            (below, over) = axis.SecondsAt(middle) > seconds ? (below, middle) : (middle, over);
        }

        return over;
    }
}
