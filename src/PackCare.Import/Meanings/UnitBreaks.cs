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
    private const int FewestSure = 2;
    private const int Furthest = 1000;

    // Amperes.
    private const double LeastStep = 50;

    /// <summary>Refuses a log in which the current or a charge does that.</summary>
    internal static void Check(LogColumns columns)
    {
        foreach (ColumnRole role in columns.Roles.Where(role => role.Meaning is ColumnMeaning.Current or ColumnMeaning.Charge or ColumnMeaning.ChargeIn or ColumnMeaning.ChargeOut or ColumnMeaning.PackVoltage && role.Column.MaxDecimals > 0 && role.Profile is { LargestMagnitude: >= 100 }))
        {
            var values = new BlockCursor(role.Values);
            if (Find(role, values, columns.Cells) is int row && (values.ValueAt(row), values.ValueAt(row - 1)) is (double now, double before))
            {
                columns.Refuse(
                    "unit-unclear", row, role, string.Create(CultureInfo.InvariantCulture, $"{now:0.######} after {before:0.######}: from here on in another unit, or without the decimal mark"),
                    "write all values of a column in one unit, with their decimals");
                return;
            }
        }
    }

    private static int? Find(ColumnRole role, BlockCursor cursor, List<ColumnRole> cells)
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
            if (row <= 0 || row >= rows)
            {
                continue;
            }

            bool isSure = role.Meaning == ColumnMeaning.Current && role.Hint.Unit == Unit.Ampere && DoNotAnswer(cells, cursor, row);
            int fewest = isSure ? FewestSure : Fewest;
            (double before, double after) = (Level(cursor, rows, row - 1, -1, fewest, counts: false), Level(cursor, rows, row, 1, fewest, counts: false));
            if (!(Math.Max(row == first ? before : after, Math.Abs(cursor.ValueAt(row == first ? row - 1 : row))) >= 100))
            {
                continue;
            }

            // A counter rises, so that its steps tell; of a value itself, its size.
            bool counts = role.Meaning is ColumnMeaning.Charge or ColumnMeaning.ChargeIn or ColumnMeaning.ChargeOut;
            double ratio = Ratio(before, after);
            double ofSteps = counts ? Ratio(Level(cursor, rows, row - 1, -1, FewestSure, counts), Level(cursor, rows, row, 1, FewestSure, counts)) : 0;
            double marks = Math.Pow(10, role.Column.MaxDecimals);
            if ((isSure && ratio is > 50 and < 20_000) || IsAbout(ratio, 1000, 2) || (marks >= 100 && (IsAbout(ratio, marks, 2) || IsAbout(ofSteps, marks, 2.5))))
            {
                return row;
            }
        }

        return null;

        static bool IsBroken(double value) => value != Math.Truncate(value) && !double.IsNaN(value);
    }

    // Cells that stay where they are have not seen such a current, and a few values are enough.
    private static bool DoNotAnswer(List<ColumnRole> cells, BlockCursor amps, int row)
    {
        double step = Math.Abs(amps.ValueAt(row) - amps.ValueAt(row - 1));
        return step >= LeastStep && cells.Count > 0 && cells.TrueForAll(cell => new BlockCursor(cell.Values) is var volts && Math.Abs(volts.ValueAt(row) - volts.ValueAt(row - 1)) * cell.Factor < CellAnswer.LeastCellOhms * step);
    }

    private static double Ratio(double one, double other) => one > 0 && other > 0 ? Math.Max(one, other) / Math.Min(one, other) : 0;

    private static bool IsAbout(double ratio, double expected, double within) => ratio > expected / within && ratio < expected * within;

    // The middle of the next few that are not nought; 0 where there are too few.
    private static double Level(BlockCursor cursor, int rows, int from, int step, int fewest, bool counts)
    {
        var sizes = new List<double>();
        for (int i = from; i >= 0 && i < rows && Math.Abs(i - from) < Furthest && sizes.Count < Beside; i += step)
        {
            double before = !counts ? 0 : i > 0 && (step < 0 || i > from) ? cursor.ValueAt(i - 1) : double.NaN;
            if (Math.Abs(cursor.ValueAt(i) - before) is var size and > 0)
            {
                sizes.Add(size);
            }
        }

        return sizes.Count < fewest ? 0 : Selection.At([.. sizes], sizes.Count / 2);
    }
}
