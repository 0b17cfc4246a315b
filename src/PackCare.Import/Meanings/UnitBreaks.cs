using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>
/// Finds the row from which on a column goes on in another unit: whole numbers on one side of it, decimals on the other, and a thousand times the size.
/// </summary>
internal static class UnitBreaks
{
    private const int Beside = 10;
    private const int Fewest = 3;
    private const int Furthest = 1000;

    /// <summary>Refuses a log in which the current or a charge does that.</summary>
    internal static void Check(LogColumns columns)
    {
        foreach (ColumnRole role in columns.Roles.Where(role => role.Meaning is ColumnMeaning.Current or ColumnMeaning.Charge or ColumnMeaning.ChargeIn or ColumnMeaning.ChargeOut && role.Column.MaxDecimals > 0 && role.Profile is { LargestMagnitude: >= 100 }))
        {
            var values = new BlockCursor(role.Values);
            if (Find(role, values) is int row && (values.ValueAt(row), values.ValueAt(row - 1)) is (double now, double before))
            {
                columns.Refuse(
                    "unit-unclear", row, role, string.Create(CultureInfo.InvariantCulture, $"{now:0.######} after {before:0.######}: from here on in another unit, a thousand times as {(Math.Abs(now) < Math.Abs(before) ? "large" : "small")}"),
                    "write all values of a column in one unit");
                return;
            }
        }
    }

    private static int? Find(ColumnRole role, BlockCursor cursor)
    {
        int first = -1;
        int last = -1;
        int rows = 0;
        for (int b = 0; b < role.Values.Count; b++)
        {
            double[] values = LogColumns.Values(role, b, 1);
            int one = Array.FindIndex(values, IsBroken);
            first = first < 0 && one >= 0 ? rows + one : first;
            last = one >= 0 ? rows + Array.FindLastIndex(values, IsBroken) : last;
            rows += values.Length;
        }

        foreach (int row in (int[])[first, last + 1])
        {
            if (row > 0 && row < rows && Level(cursor, rows, row - 1, -1) is var before and > 0 && Level(cursor, rows, row, 1) is var after and > 0
                && (row == first ? before : after) >= 100 && Ratio(before, after) is > 500 and < 2000)
            {
                return row;
            }
        }

        return null;

        static bool IsBroken(double value) => value != Math.Truncate(value) && !double.IsNaN(value);
    }

    private static double Ratio(double one, double other) => Math.Max(one, other) / Math.Min(one, other);

    // The middle of the next few that are not nought; 0 where there are too few.
    private static double Level(BlockCursor cursor, int rows, int from, int step)
    {
        var sizes = new List<double>();
        for (int i = from; i >= 0 && i < rows && Math.Abs(i - from) < Furthest && sizes.Count < Beside; i += step)
        {
            if (Math.Abs(cursor.ValueAt(i)) is var size and > 0)
            {
                sizes.Add(size);
            }
        }

        return sizes.Count < Fewest ? 0 : Selection.At([.. sizes], sizes.Count / 2);
    }
}
