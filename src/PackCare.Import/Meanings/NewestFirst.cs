using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Logs whose rows stand the other way round, as lists of events often do: the newest first.</summary>
internal static class NewestFirst
{
    private const int FewestRows = 4;
    private const int RowsToLookAt = 64;

    // Of the first rows; at midnight a time of day goes the other way.
    private const double MostRises = 0.2;

    /// <summary>Whether the times of day of the first rows go back, so that a closer look pays.</summary>
    internal static bool Seems(ColumnRole time)
    {
        if (time is { Meaning: ColumnMeaning.Timestamp, Profile: { Rises: 0 } profile })
        {
            return profile.Falls >= FewestRows;
        }

        if (time is not { Meaning: ColumnMeaning.Timestamp or ColumnMeaning.ClockTime, Profile: null, Column: { FailedLine: 0, Present: >= FewestRows } column })
        {
            return false;
        }

        var cursor = new BlockCursor(column.Values);
        (int rises, int falls) = (0, 0);
        double before = double.NaN;
        for (int row = 0; row < Math.Min(RowsToLookAt, column.Present); row++)
        {
            (long scaled, int decimals) = cursor.At(row);
            double now = scaled == BlockCodec.Missing ? double.NaN : scaled / Math.Pow(10, decimals);
            rises += now > before ? 1 : 0;
            falls += now < before ? 1 : 0;
            before = now;
        }

        return falls > 0 && rises <= MostRises * falls;
    }

    /// <summary>The table turned round, where each row is a moment with a date that comes before that of the row above it; else null.</summary>
    internal static RawTable? Turned(RawTable table, TimeAxis? axis)
    {
        if (axis is not { IsAbsolute: true })
        {
            return null;
        }

        double before = double.PositiveInfinity;
        int falls = 0;
        for (int b = 0; b < axis.Blocks.Count; b++)
        {
            foreach (double now in axis.Seconds(b))
            {
                if (!(now <= before))
                {
                    return null;
                }

                falls += now < before ? 1 : 0;
                before = now;
            }
        }

        return falls < FewestRows ? null : SortedRows.Of(table, [.. Enumerable.Range(1, table.Rows).Select(place => table.Rows - place)], Turned(table.Restarts), Turned(table.Blanks));

        int[] Turned(IReadOnlyList<int> places) => [.. places.Select(row => table.Rows - row).Where(row => row > 0).Order()];
    }
}
