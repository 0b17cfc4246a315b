using MathNet.Numerics.Statistics;

namespace PackCare.Analysis.Statistics;

/// <summary>The Theil-Sen slope: the median of the slopes of all pairs of points (Theil 1950; Sen 1968, JASA 63, 1379-1389).</summary>
internal static class TheilSen
{
    // All pairs of 200 points are 20,000 slopes; beyond that every k-th point serves, which keeps it quick and changes the median little.
    private const int MaxPoints = 200;

    /// <summary>The slope.</summary>
    /// <returns>NaN where no two x differ.</returns>
    public static double Slope(IReadOnlyList<double> x, IReadOnlyList<double> y)
    {
        int stride = 1 + ((x.Count - 1) / MaxPoints);
        int kept = (x.Count + stride - 1) / stride;
        var slopes = new double[kept * (kept - 1) / 2];
        int count = 0;
        for (int i = 0; i < x.Count; i += stride)
        {
            for (int j = i + stride; j < x.Count; j += stride)
            {
                double run = x[j] - x[i];
                if (run != 0)
                {
                    slopes[count++] = (y[j] - y[i]) / run;
                }
            }
        }

        if (count == 0)
        {
            return double.NaN;
        }

        if (count < slopes.Length)
        {
            Array.Resize(ref slopes, count);
        }

        return ArrayStatistics.MedianInplace(slopes);
    }
}
