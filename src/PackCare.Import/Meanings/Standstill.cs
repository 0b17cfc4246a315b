using PackCare.Core.Reading;
using PackCare.Core.Samples;

namespace PackCare.Import.Meanings;

/// <summary>Points at what stands still or ends in the middle of a log: a clock, or the readings of a column.</summary>
internal static class Standstill
{
    private const int FewestRows = 6;

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

        if (columns.Single(ColumnMeaning.PackLabel) is null && LongestStandstill(axis.Seconds(0)) is { } standstill)
        {
            columns.Notice("time-stands-still", standstill.Row, time, $"a time that stands still for {standstill.Rows} rows", "have a look: the clock may have stopped; the rows were kept as logged");
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

    // Much longer than a clock of whole seconds ever stands.
    private static (int Row, int Rows)? LongestStandstill(double[] seconds)
    {
        int moments = 0;
        int length = 1;
        (int Row, int Rows) longest = (0, 0);
        for (int i = 1; i <= seconds.Length; i++)
        {
            if (i < seconds.Length && seconds[i] == seconds[i - 1])
            {
                length++;
                continue;
            }

            moments++;
            longest = length > longest.Rows ? (i - length, length) : longest;
            length = 1;
        }

        int others = moments - 1;
        double usual = others <= 0 ? 0 : (seconds.Length - longest.Rows) / (double)others;
        return others >= 2 && longest.Rows >= FewestRows && longest.Rows > 5 * usual ? (longest.Row + 1, longest.Rows) : null;
    }
}
