namespace PackCare.Report.Charts;

/// <summary>A stretch of an axis.</summary>
/// <param name="Low">Its lower end.</param>
/// <param name="High">Its upper end, above the lower.</param>
internal readonly record struct Span(double Low, double High)
{
    public double Length => High - Low;

    /// <summary>The smallest span around finite values; null without any.</summary>
    public static Span? Around(IEnumerable<double> values)
    {
        double low = double.PositiveInfinity;
        double high = double.NegativeInfinity;
        foreach (double value in values)
        {
            if (double.IsFinite(value))
            {
                low = Math.Min(low, value);
                high = Math.Max(high, value);
            }
        }

        return low <= high ? new Span(low, high) : null;
    }

    /// <summary>The same with the given share of its length, and at least the given room, added at each end.</summary>
    public Span Padded(double share, double least)
    {
        double by = Math.Max(Length * share, least);
        return new Span(Low - by, High + by);
    }

    /// <summary>The value, moved to the nearer end where it lies outside.</summary>
    public double Clamp(double value) => Math.Clamp(value, Low, High);

    public bool Holds(double value) => value >= Low && value <= High;
}
