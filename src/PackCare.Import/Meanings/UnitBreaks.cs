using System.Globalization;
using PackCare.Core.Reading;

namespace PackCare.Import.Meanings;

/// <summary>
/// Finds the row from which on a column goes on in another unit: whole numbers on one side of it, decimals on the other, and a thousand times the size.
/// </summary>
internal static class UnitBreaks
{
    private const int Beside = 10;
    private const int Fewest = 3;

    /// <summary>Refuses a log in which the current or a charge does that.</summary>
    internal static void Check(LogColumns columns)
    {
        foreach (ColumnRole role in columns.Roles.Where(role => role.Meaning is ColumnMeaning.Current or ColumnMeaning.Charge or ColumnMeaning.ChargeIn or ColumnMeaning.ChargeOut && role.Column.MaxDecimals > 0 && role.Profile is { LargestMagnitude: >= 100 }))
        {
            double[] values = [.. Enumerable.Range(0, role.Values.Count).SelectMany(block => LogColumns.Values(role, block, 1))];
            if (Find(values) is int row)
            {
                columns.Refuse(
                    "unit-unclear", row, role, string.Create(CultureInfo.InvariantCulture, $"{values[row]:0.######} after {values[row - 1]:0.######}: from here on in another unit, a thousand times as {(Math.Abs(values[row]) < Math.Abs(values[row - 1]) ? "large" : "small")}"),
                    "write all values of a column in one unit");
                return;
            }
        }
    }

    private static int? Find(double[] values)
    {
        bool[] isWhole = [.. values.Select(value => value == Math.Truncate(value))];
        int last = Array.FindLastIndex(isWhole, whole => !whole);
        int first = Array.FindIndex(isWhole, whole => !whole);
        foreach (int row in (int[])[first, last + 1])
        {
            if (row > 0 && row < values.Length && Level(values, row - 1, -1) is var before and > 0 && Level(values, row, 1) is var after and > 0
                && (row == first ? before : after) >= 100 && Ratio(before, after) is > 500 and < 2000)
            {
                return row;
            }
        }

        return null;
    }

    private static double Ratio(double one, double other) => Math.Max(one, other) / Math.Min(one, other);

    // The middle of the next few that are not nought; 0 where there are too few.
    private static double Level(double[] values, int from, int step)
    {
        var sizes = new List<double>();
        for (int i = from; i >= 0 && i < values.Length && sizes.Count < Beside; i += step)
        {
            if (Math.Abs(values[i]) > 0)
            {
                sizes.Add(Math.Abs(values[i]));
            }
        }

        return sizes.Count < Fewest ? 0 : Selection.At([.. sizes], sizes.Count / 2);
    }
}
