namespace PackCare.Import.Meanings;

/// <summary>Tells whether the values of a column could be those of a temperature in °C.</summary>
internal static class TemperatureShape
{
    /// <summary>Whether it is slow and with hardly any noise, as little else in a log is; and no long straight line, as a share of charge would be.</summary>
    internal static bool CanBeTemperature(ColumnRole role)
    {
        if (role.Profile is not { Min: >= 5, Max: <= 55, IsConstant: false } profile || profile.LargestStep > 2 || role.Column.MaxDecimals > 2)
        {
            return false;
        }

        double digit = Math.Pow(10, -role.Column.MaxDecimals);
        bool flickers = role.Column.MaxDecimals <= 1 && profile.Min >= 10 && profile.LargestStep <= 3.01 * digit;
        bool smooth = profile.SumOfSteps <= 6 * (profile.Max - profile.Min);
        return (flickers || smooth) && !IsStraight(role, digit);
    }

    private static bool IsStraight(ColumnRole role, double digit)
    {
        double[] values = [.. LogColumns.Values(role, 0, 1).Where(double.IsFinite)];
        if (values.Length == 0)
        {
            return false;
        }

        int from = Array.FindLastIndex(values, value => value == values[0]);
        int rows = values.Length - 1 - from;
        double slope = rows > 0 ? (values[^1] - values[from]) / rows : 0;
        if (rows < 6 || Math.Abs(values[^1] - values[from]) < 5)
        {
            return false;
        }

        for (int i = from; i < values.Length; i++)
        {
            if (Math.Abs(values[i] - values[from] - (slope * (i - from))) > 1.5 * digit)
            {
                return false;
            }
        }

        return true;
    }
}
