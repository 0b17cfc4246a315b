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

    /// <summary>Sums every stretch of rows up by its mean, lowest and highest value, for series that jump within their resolution.</summary>
    /// <param name="xs">Horizontal values.</param>
    /// <param name="ys">Vertical values; NaN where there is no reading.</param>
    /// <param name="buckets">Into how many stretches to divide.</param>
    /// <returns>One entry a stretch that holds a reading: mean x, mean, lowest and highest y.</returns>
    public static (double[] Xs, double[] Means, double[] Low, double[] High) Sums(double[] xs, double[] ys, int buckets)
    {
        var sums = new List<(double X, double Mean, double Low, double High)>(buckets);
        for (int bucket = 0; bucket < buckets; bucket++)
        {
            int from = (int)((long)ys.Length * bucket / buckets);
            int to = (int)((long)ys.Length * (bucket + 1) / buckets);
            int[] rows = [.. Enumerable.Range(from, to - from).Where(row => double.IsFinite(xs[row]) && double.IsFinite(ys[row]))];
            if (rows.Length > 0)
            {
                sums.Add((rows.Average(row => xs[row]), rows.Average(row => ys[row]), rows.Min(row => ys[row]), rows.Max(row => ys[row])));
            }
        }

        return ([.. sums.Select(sum => sum.X)], [.. sums.Select(sum => sum.Mean)], [.. sums.Select(sum => sum.Low)], [.. sums.Select(sum => sum.High)]);
    }

    /// <summary>The picked rows of a series.</summary>
    public static double[] Pick(double[] values, int[] rows) => Array.ConvertAll(rows, row => values[row]);
}
