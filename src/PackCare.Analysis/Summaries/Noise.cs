using MathNet.Numerics.Statistics;

namespace PackCare.Analysis.Summaries;

/// <summary>How much single readings of a channel scatter.</summary>
internal static class Noise
{
    // E|X| of a normal variable's median absolute value is 0.6745 sigma; a second difference has sqrt(6) times the scatter of a reading.
    private const double MedianToSigma = 1 / 0.6745;
    private static readonly double SecondDifference = Math.Sqrt(6);

    /// <summary>
    /// Standard deviation of one reading: that of rounding to the channel's step (step / sqrt 12), or that seen in the
    /// second differences of readings under steady current, whichever is larger.
    /// </summary>
    /// <param name="values">The readings.</param>
    /// <param name="steady">Whether current was steady from the sample before to the sample after.</param>
    public static double Of(double[] values, Func<int, bool> steady)
    {
        double rounding = Resolution.Of(values) / Math.Sqrt(12);
        var differences = new List<double>();
        int stride = 1 + (values.Length / 20_000);
        for (int i = 1; i < values.Length - 1; i += stride)
        {
            double second = values[i - 1] - (2 * values[i]) + values[i + 1];
            if (double.IsFinite(second) && steady(i))
            {
                differences.Add(Math.Abs(second));
            }
        }

        double seen = differences.Count < 8 ? 0 : differences.Median() * MedianToSigma / SecondDifference;
        return Math.Max(rounding, seen);
    }
}
