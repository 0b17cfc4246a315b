using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Points at what stands still or ends in the middle of a log: a clock, or the readings of a column.</summary>
internal static class Standstill
{
    private const int FewestRows = 6;
    private const int FewestApart = 20;
    private const int MostTold = 3;

    // Seconds from one moment to the next, with as many rows at each.
    private const double LeastCoarse = 30;
    private const double LeastLost = 90;
    private const int FewestAtOnce = 3;
    private const double Minute = 60;
    private const int FewestMinutes = 4;
    private const double MostSingle = 1.6;

    /// <summary>Tells of them as notices.</summary>
    internal static void Tell(LogColumns columns, TimeAxis axis, ColumnRole time)
    {
        foreach (ColumnRole role in columns.Roles.Where(role => role.IsUsed && role.Column.Present < columns.Table.Rows && role.Column.Present > 0))
        {
            int last = LastPresent(role);
            if (last < columns.Table.Rows - 2 && role.Meaning is not (ColumnMeaning.PackLabel or ColumnMeaning.Mode or ColumnMeaning.SessionNumber))
            {
                columns.Notice("readings-end", last + 1, role, $"no readings in column {role.Column.Index + 1} from here to the end", "have a look: a lead may have come off, or fields may have been lost");
            }
        }

        // Packs that take turns share their moments.
        if (columns.Single(ColumnMeaning.PackLabel) is not null)
        {
            return;
        }

        List<(int Row, int Rows)> moments = SharedMoments(axis, out int count);
        if (Longest(moments, count, columns.Table.Rows) is { } standstill)
        {
            columns.Notice("time-stands-still", standstill.Row + 1, time, $"a time that stands still for {standstill.Rows} rows", "have a look: the clock may have stopped; the rows were kept as logged");
        }

        if (count == 1 && columns.Table.Rows >= FewestAtOnce)
        {
            columns.Refuse("time-form", 1, time, $"a time that is the same in all {columns.Table.Rows} rows", "export the log again with its times");
            return;
        }

        // 1.78100E+09: hundreds of rows at one moment, and the next long after.
        double apart = count > 1 ? (axis.SecondsAt(columns.Table.Rows - 1) - axis.SecondsAt(0)) / (count - 1) : 0;
        bool areMany = columns.Table.Rows >= FewestAtOnce * count;
        if (areMany && apart > LeastLost)
        {
            columns.Refuse("time-form", 1, time, $"a time that has {count} different values in {columns.Table.Rows} rows: its last digits were lost", "export the log again with all digits of the time");
            return;
        }

        // Two rows to each minute.
        bool isByMinutes = count >= FewestMinutes && columns.Table.Rows > MostSingle * count && apart is >= Minute and < 1.5 * Minute;
        if ((areMany && apart >= LeastCoarse) || isByMinutes)
        {
            apart = areMany ? apart : Minute;
            columns.Notice("time-stands-still", 1, time, FormattableString.Invariant($"a time that goes on by steps of {apart:0.#} s while rows follow each other faster: its seconds may have been cut off"), "it was kept as logged; how long anything took is uncertain by as much");
            return;
        }

        if (moments.Count * 2 > 0.9 * columns.Table.Rows && moments.TrueForAll(moment => moment.Rows == 2) && AreCopies(columns, time, moments))
        {
            columns.Notice("repeated-rows", 1, null, "rows each of which stands in the log twice", "they were kept as logged; if they were written twice, take one of each out");
            return;
        }

        // A coarse clock gives its times to several rows, and at rest they may well be alike.
        if (moments.Sum(moment => moment.Rows) * FewestApart <= columns.Table.Rows)
        {
            TellCopies(columns, time, moments);
        }
    }

    private static bool AreCopies(LogColumns columns, ColumnRole time, List<(int Row, int Rows)> moments)
    {
        List<BlockCursor> used = CursorsOf(columns, time);
        return moments.TrueForAll(moment => used.TrueForAll(values => values.At(moment.Row) == values.At(moment.Row + 1)))
            && moments.Count(moment => moment.Row > 0 && used.Exists(values => values.At(moment.Row - 1) != values.At(moment.Row))) * 2 > moments.Count;
    }

    private static List<BlockCursor> CursorsOf(LogColumns columns, ColumnRole time) => [.. columns.Roles.Where(role => role != time && role.IsUsed && role.Column.Shape == ColumnShape.Number).Select(role => new BlockCursor(role.Values))];

    private static void TellCopies(LogColumns columns, ColumnRole time, List<(int Row, int Rows)> moments)
    {
        List<BlockCursor> used = CursorsOf(columns, time);
        IEnumerable<int> copies = moments.SelectMany(moment => Enumerable.Range(moment.Row + 1, moment.Rows - 1)).Where(row => used.TrueForAll(values => values.At(row - 1) == values.At(row)));
        foreach (int row in copies.Take(MostTold))
        {
            columns.Notice("repeated-rows", row, null, "a row that is the one before it once more, its time too", "it was kept as logged; if it was written twice, take it out");
        }
    }

    private static int LastPresent(ColumnRole role)
    {
        int start = role.Values.Sum(block => block.Count);
        long[] scaled = new long[Channel.BlockRows];
        for (int b = role.Values.Count - 1; b >= 0; b--)
        {
            start -= role.Values[b].Count;
            BlockCodec.Decode(role.Values[b], scaled);
            int last = scaled.AsSpan(0, role.Values[b].Count).LastIndexOfAnyExcept(BlockCodec.Missing);
            if (last >= 0)
            {
                return start + last;
            }
        }

        return -1;
    }

    // Runs of rows that have the same time, and how many different times there are.
    private static List<(int Row, int Rows)> SharedMoments(TimeAxis axis, out int count)
    {
        List<(int Row, int Rows)> shared = [];
        double[] seconds = new double[Channel.BlockRows];
        double last = double.NaN;
        int start = 0;
        count = 0;
        for (int b = 0; b < axis.Blocks.Count; b++)
        {
            int rows = axis.Blocks[b].Count;
            axis.Seconds(b, seconds);
            count += rows;
            for (int i = rows > 0 && seconds[0] == last ? 0 : RowMath.NextRepeat(seconds.AsSpan(0, rows), 1); i < rows; i = RowMath.NextRepeat(seconds.AsSpan(0, rows), i + 1))
            {
                count--;
                if (shared.Count > 0 && shared[^1].Row + shared[^1].Rows == start + i)
                {
                    shared[^1] = (shared[^1].Row, shared[^1].Rows + 1);
                }
                else
                {
                    shared.Add((start + i - 1, 2));
                }
            }

            last = rows > 0 ? seconds[rows - 1] : last;
            start += rows;
        }

        return shared;
    }

    // Much longer than a clock of whole seconds ever stands.
    private static (int Row, int Rows)? Longest(List<(int Row, int Rows)> shared, int moments, int rows)
    {
        (int Row, int Rows) longest = shared.Count == 0 ? (0, 0) : shared.MaxBy(moment => moment.Rows);
        int others = moments - 1;
        double usual = others <= 0 ? 0 : (rows - longest.Rows) / (double)others;
        return others >= 2 && longest.Rows >= FewestRows && longest.Rows > 5 * usual ? longest : null;
    }
}
