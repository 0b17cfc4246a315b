namespace PackCare.Analysis.Summaries;

/// <summary>Order statistics of a column too long to be sorted: exact, by ever closer looks at where the rank falls.</summary>
internal static class Ranks
{
    private const int Bins = 4096;

    /// <summary>The reading of one rank among those that are there.</summary>
    /// <param name="column">The column; NaN does not count.</param>
    /// <param name="rank">From 0, below the number of readings.</param>
    public static double Of(SampleColumn column, int rank)
    {
        double low = column.Figures.Min;
        double high = column.Figures.Max;
        while (low < high)
        {
            var counts = new int[Bins];
            var lowest = new double[Bins];
            var highest = new double[Bins];
            double scale = (Bins - 1) / (high - low);
            for (int page = 0; page < column.Pages; page++)
            {
                foreach (double value in column.Page(page))
                {
                    if (!(value >= low && value <= high))
                    {
                        continue;
                    }

                    int bin = (int)((value - low) * scale);
                    bool first = counts[bin]++ == 0;
                    lowest[bin] = first || value < lowest[bin] ? value : lowest[bin];
                    highest[bin] = first || value > highest[bin] ? value : highest[bin];
                }
            }

            int found = 0;
            while (rank >= counts[found])
            {
                rank -= counts[found++];
            }

            (low, high) = (lowest[found], highest[found]);
        }

        return low;
    }

    /// <summary>The median of the readings that are there; the mean of the middle two where their number is even.</summary>
    public static double Median(SampleColumn column)
    {
        int count = column.Figures.Present;
        return count % 2 == 1 ? Of(column, count / 2) : (Of(column, (count / 2) - 1) + Of(column, count / 2)) / 2;
    }
}
