namespace PackCare.Import.Meanings;

/// <summary>Tells by how many of its last digits at once a column changes: a meter that sees 20 mV is often written in millivolts.</summary>
internal static class CoarseDigits
{
    private const int FewestValues = 4;
    private const int MostRows = 4096;

    private static readonly int[] Steps = [50, 25, 20, 10, 5, 2];

    /// <summary>How many digits; 1 where nothing else is sure.</summary>
    internal static int Of(ColumnRole role)
    {
        if (role.Values.Count == 0 || role.Profile is not { Count: > 0 })
        {
            return 1;
        }

        double digits = Math.Pow(10, role.Column.MaxDecimals);
        long[] numbers = [.. LogColumns.Values(role, 0, 1, Math.Min(MostRows, role.Values[0].Count)).Where(double.IsFinite).Select(value => (long)Math.Round(value * digits))];
        long first = numbers.Length == 0 ? 0 : numbers[0];
        foreach (int step in Steps)
        {
            if (Array.TrueForAll(numbers, number => (number - first) % step == 0))
            {
                return numbers.Distinct().Take(FewestValues).Count() == FewestValues ? step : 1;
            }
        }

        return 1;
    }
}
