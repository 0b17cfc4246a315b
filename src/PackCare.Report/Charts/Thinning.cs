namespace PackCare.Report.Charts;

/// <summary>Makes long series short enough to draw without hiding what stands out.</summary>
internal static class Thinning
{
    /// <summary>
    /// Picks rows: of every stretch of rows, the first, the lowest and the highest of each series. Rows stay in order.
    /// </summary>
    /// <param name="series">Series of equal length; NaN where there is no reading.</param>
    /// <param name="buckets">Into how many stretches to divide.</param>
    /// <returns>Row numbers in ascending order, the first and last row among them.</returns>
    public static int[] Rows(IReadOnlyList<double[]> series, int buckets)
    {
        int count = series.Count == 0 ? 0 : series[0].Length;
        if (count <= buckets * 2)
        {
            return [.. Enumerable.Range(0, count)];
        }

        var rows = new SortedSet<int> { 0, count - 1 };
        for (int bucket = 0; bucket < buckets; bucket++)
        {
            int from = (int)((long)count * bucket / buckets);
            int to = (int)((long)count * (bucket + 1) / buckets);
            rows.Add(from);
            foreach (double[] values in series)
            {
                int low = -1;
                int high = -1;
                for (int row = from; row < to; row++)
                {
                    double value = values[row];
                    if (double.IsNaN(value))
                    {
                        continue;
                    }

                    if (low < 0 || value < values[low])
                    {
                        low = row;
                    }

                    if (high < 0 || value > values[high])
                    {
                        high = row;
                    }
                }

                if (low >= 0)
                {
                    rows.Add(low);
                    rows.Add(high);
                }
            }
        }

        return [.. rows];
    }

    /// <summary>The picked rows of a series.</summary>
    public static double[] Pick(double[] values, int[] rows) => Array.ConvertAll(rows, row => values[row]);
}
