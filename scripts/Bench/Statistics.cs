namespace PackCare.Bench;

/// <summary>Figures of repeated runs.</summary>
internal static class Statistics
{
    /// <summary>The middle value.</summary>
    public static double Median(IEnumerable<double> values)
    {
        double[] sorted = [.. values.Order()];
        return (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2;
    }
}
