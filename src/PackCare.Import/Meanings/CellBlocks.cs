using PackCare.Import.Sessions;

namespace PackCare.Import.Meanings;

/// <summary>
/// Finds logs without a header in which all rows of one cell come first and then all of the next: the time begins anew while one column counts on, and
/// another has the same readings at the same times again.
/// </summary>
internal static class CellBlocks
{
    private const int FewestReadings = 3;
    private const double MostOther = 0.1;

    /// <summary>Refuses such a log: what it holds once a cell would be taken for a session of its own.</summary>
    internal static void Check(LogColumns columns, TimeAxis axis, SessionMap map)
    {
        if (map.Count < 2 || axis.IsAbsolute || columns.Cells.Count > 1 || columns.Roles.Any(role => role.Hint.Quantity is Quantity.PackLabel or Quantity.Session))
        {
            return;
        }

        (int First, int Last)[] rows = map.Bounds();
        double[] seconds = axis.Seconds(0);
        if (rows[1].Last >= seconds.Length)
        {
            return;
        }

        List<(ColumnRole Role, double[] Values)> numbers = [.. columns.Roles.Where(role => role.Profile is { Count: > 0 }).Select(role => (role, LogColumns.Values(role, 0, 1)))];
        foreach ((ColumnRole label, double[] labels) in numbers.Where(number => number.Role is { IsUsed: false, Hint.IsGuided: false } && number.Role.Column.MaxDecimals == 0))
        {
            if (!IsConstant(labels, rows[0]) || !IsConstant(labels, rows[1]) || labels[rows[1].First] - labels[rows[0].First] != 1)
            {
                continue;
            }

            if (numbers.Find(number => number.Role.Meaning is not (Core.Reading.ColumnMeaning.ElapsedTime or Core.Reading.ColumnMeaning.ClockTime) && number.Role != label && ComesAgain(number.Values, seconds, rows[0], rows[1])) is { Role: { } again })
            {
                columns.Refuse(
                    "long-layout", rows[1].First, again, $"the readings of column {again.Column.Index + 1} at the same times again, while column {label.Column.Index + 1} counts on: one row a cell, all of one cell before all of the next",
                    "name the columns in a header, for instance time_s, cell, cell_v");
                return;
            }
        }
    }

    private static bool IsConstant(double[] values, (int First, int Last) rows)
    {
        for (int i = rows.First + 1; i <= rows.Last; i++)
        {
            if (values[i] != values[rows.First])
            {
                return false;
            }
        }

        return true;
    }

    private static bool ComesAgain(double[] values, double[] seconds, (int First, int Last) one, (int First, int Last) other)
    {
        int same = 0;
        int differ = 0;
        var readings = new HashSet<double>();
        int at = one.First;
        for (int i = other.First; i <= other.Last; i++)
        {
            while (at <= one.Last && seconds[at] < seconds[i])
            {
                at++;
            }

            if (at > one.Last || seconds[at] != seconds[i])
            {
                continue;
            }

            (same, differ) = values[at] == values[i] ? (same + 1, differ) : (same, differ + 1);
            readings.Add(values[i]);
        }

        return same >= FewestReadings && readings.Count >= FewestReadings && differ <= MostOther * same;
    }
}
