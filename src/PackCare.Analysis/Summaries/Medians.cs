namespace PackCare.Analysis.Summaries;

/// <summary>The median of a few values, with nothing allocated: it is asked for at every step of a log, for as many values as a pack has cells. For more of them there is a library.</summary>
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

        for (int i = 1; i < values.Length; i++)
        {
            double value = values[i];
            int at = i;
            for (; at > 0 && values[at - 1] > value; at--)
            {
                values[at] = values[at - 1];
            }

            values[at] = value;
        }

        int half = values.Length / 2;
        return values.Length % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
    }
}
