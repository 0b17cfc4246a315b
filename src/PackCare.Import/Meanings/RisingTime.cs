namespace PackCare.Import.Meanings;

/// <summary>Tells which of several columns that rise with each row is the time: a charge counter and the numbers of rows rise too.</summary>
internal static class RisingTime
{
    private static readonly double[] Ratios = [1, 1000, 0.001, 60, 3600, 60_000, 3_600_000];

    /// <summary>The time, or null with the log refused where nothing decides.</summary>
    internal static ColumnRole? Choose(LogColumns columns, List<ColumnRole> rising, List<ColumnRole> numbers)
    {
        double[][] values = [.. numbers.Select(role => LogColumns.Values(role, 0, 1))];
        List<ColumnRole> proved = [.. rising.Where(role => IsProved(role, numbers, values))];
        if (proved.Count > 0 && SameSteps(proved))
        {
            return proved[0];
        }

        List<ColumnRole> even = [.. (proved.Count > 0 ? proved : rising).Where(IsEven)];
        if (even.Count > 0 && SameSteps(even) && (even.Count > 1 || !CountsRows(even[0])))
        {
            return even[0];
        }

        columns.Refuse("ambiguous-time", 0, rising[0], $"columns {rising[0].Column.Index + 1} and {rising[1].Column.Index + 1} could both be the time", "name the columns in a header, for instance time_s");
        return null;
    }

    // Over the true time some column is the integral of another, in some pair of units.
    private static bool IsProved(ColumnRole role, List<ColumnRole> numbers, double[][] values)
    {
        double[] time = values[numbers.IndexOf(role)];
        for (int c = 0; c < numbers.Count; c++)
        {
            if (numbers[c] == role || numbers[c].Profile!.IsConstantZero || VoltageFinder.LooksLikeCell(numbers[c]))
            {
                continue;
            }

            double[] integral = Integral(values[c], time);
            double end = integral[^1] / 3600;
            for (int o = 0; o < numbers.Count && end != 0; o++)
            {
                double digit = Math.Pow(10, -numbers[o].Column.MaxDecimals);
                double went = values[o][^1] - values[o][0];
                if (o == c || numbers[o] == role || CountsOn(numbers[o], numbers[c]) || double.IsNaN(went) || Math.Abs(went) < 8 * digit)
                {
                    continue;
                }

                double ratio = Math.Abs(went / end);
                if (Ratios.Any(r => Math.Abs((ratio / r) - 1) < 0.03 + (digit / Math.Abs(went))) && Follows(values[o], integral, went / integral[^1], (0.02 * Math.Abs(went)) + digit))
                {
                    return true;
                }
            }
        }

        return false;
    }

    // The integral of the size: counters of charging and of discharging both count up.
    private static double[] Integral(double[] values, double[] time)
    {
        var integral = new double[values.Length];
        for (int i = 1; i < values.Length; i++)
        {
            double step = (values[i] + values[i - 1]) / 2 * Math.Max(0, time[i] - time[i - 1]);
            integral[i] = integral[i - 1] + (double.IsNaN(step) ? 0 : step);
        }

        return integral;
    }

    private static bool Follows(double[] counter, double[] integral, double factor, double slack)
    {
        for (int i = 0; i < counter.Length; i++)
        {
            if (Math.Abs(counter[i] - counter[0] - (integral[i] * factor)) > slack)
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>Whether a column of whole numbers counts on evenly, row by row, while the current changes: it numbers the rows, and no current filled it.</summary>
    internal static bool CountsOn(ColumnRole counter, ColumnRole current) =>
        counter.Column.MaxDecimals == 0 && counter.Profile is { Falls: 0, Missing: 0, Count: > 2 } profile && profile.Rises == profile.Count - 1 && IsEven(counter)
        && (!current.Profile!.IsConstant || profile.LargestStep == 1);

    private static bool CountsRows(ColumnRole role) =>
        role.Profile is { First: 0 or 1, LargestStep: 1 } profile && profile.SumOfSteps == profile.Count - 1 && role.Column.MaxDecimals == 0;

    private static bool IsEven(ColumnRole role)
    {
        double mean = role.Profile!.SumOfSteps / Math.Max(1, role.Profile.Count - 1);
        return role.Profile.LargestStep <= mean * (1 + 1e-9);
    }

    private static bool SameSteps(List<ColumnRole> roles)
    {
        double[] first = LogColumns.Values(roles[0], 0, 1);
        return roles.Skip(1).All(role => LogColumns.Values(role, 0, 1).Select((value, i) => Math.Abs(value - role.Profile!.First - (first[i] - first[0])) < 1e-9).All(same => same));
    }
}
