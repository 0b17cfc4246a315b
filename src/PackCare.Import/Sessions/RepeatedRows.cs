using PackCare.Core.Reading;
using PackCare.Import.Meanings;
using PackCare.Import.Tables;

namespace PackCare.Import.Sessions;

/// <summary>
/// Finds a time that seems to begin anew where only rows were copied: what follows are rows of a session before, value by value. Where they
/// begin with its first row they may be a session of their own, and are pointed at, unless their dates say that they are not.
/// </summary>
internal static class RepeatedRows
{
    private const int LeastRows = 4;

    // So many rows that are the same, one after the other, say enough.
    private const int MostCompared = 1000;

    // A copied block begins near the start of what it was copied from, else its time would be no fresh start.
    private const int FurthestStart = 8;

    private const string Found = "rows that stand in the log twice, with the same times and values";

    /// <summary>Refuses the log at the first such row.</summary>
    internal static void Check(LogColumns columns, TimeAxis axis, SessionMap map)
    {
        ColumnRole[] values = [.. columns.Roles.Where(role => role.Profile is { Count: > 0 })];
        int[] columnsOfAll = [.. Enumerable.Range(0, values.Length)];
        int[] columnsOfVolts = [.. columnsOfAll.Where(c => values[c].Meaning is ColumnMeaning.CellVoltage or ColumnMeaning.PackVoltage)];
        if (map.Segments.Count < 2 || columnsOfVolts.Length == 0)
        {
            return;
        }

        BlockCursor[] one = [.. values.Select(role => new BlockCursor(role.Values))];
        BlockCursor[] other = [.. values.Select(role => new BlockCursor(role.Values))];
        var time = new BlockCursor(axis.Blocks);
        int first = columnsOfVolts[0];
        var starts = new Dictionary<(long Time, long Volts), Segment>();
        for (int s = 0; s < map.Segments.Count; s++)
        {
            Segment now = map.Segments[s];
            if (now.End - now.Start < LeastRows)
            {
                continue;
            }

            int? start = s > 0 ? CopiedFrom(map.Segments[s - 1], now) : null;
            if (start is null && !CopiesEarlier(now))
            {
                continue;
            }

            if (axis.IsAbsolute || start > map.Segments[s - 1].Start)
            {
                columns.Refuse("repeated-rows", now.Start, null, Found, "take one of the copies out");
                return;
            }

            columns.Notice("repeated-rows", now.Start, null, Found, "they were taken for a session of their own; if they are a copy, take it out");
        }

        bool CopiesEarlier(Segment now)
        {
            (long Time, long Volts) start = (axis.At(now.Start).Scaled, one[first].At(now.Start).Scaled);
            return !starts.TryAdd(start, now) && AreCopies(starts[start].Start, now.Start, Math.Min(now.End - now.Start, starts[start].End - starts[start].Start));
        }

        int? CopiedFrom(Segment before, Segment now)
        {
            for (int start = before.Start; start < Math.Min(before.Start + FurthestStart, before.End - LeastRows); start++)
            {
                int rows = Math.Min(now.End - now.Start, before.End - start);
                if (rows >= LeastRows && one[first].At(now.Start) == other[first].At(start) && axis.At(now.Start).Scaled == time.At(start).Scaled && AreCopies(start, now.Start, rows))
                {
                    return start;
                }
            }

            return null;
        }

        bool AreCopies(int from, int to, int rows)
        {
            bool moved = false;
            int same = 0;
            while (same < Math.Min(rows, MostCompared) && axis.At(to + same).Scaled == time.At(from + same).Scaled && columnsOfAll.All(c => one[c].At(to + same) == other[c].At(from + same)))
            {
                moved |= same > 0 && columnsOfVolts.Any(c => other[c].At(from + same) != other[c].At(from + same - 1));
                same++;
            }

            return moved && same >= LeastRows;
        }
    }
}
