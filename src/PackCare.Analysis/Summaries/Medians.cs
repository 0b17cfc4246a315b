namespace PackCare.Analysis.Summaries;

/// <summary>The median of a few values, with nothing allocated: it is asked for at every step of a log, for as many values as a pack has cells.</summary>
internal static class Medians
{
    /// <summary>The median; the mean of the middle two where their number is even; NaN of none.</summary>
    /// <param name="values">The values, none of them NaN; left in order of size.</param>
    public static double Of(Span<double> values)
    {
        if (values.IsEmpty)
        {
            return double.NaN;
        }

        values.Sort();
        int half = values.Length / 2;
        return values.Length % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
    }
}
