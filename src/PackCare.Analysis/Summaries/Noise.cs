using MathNet.Numerics.Statistics;

namespace PackCare.Analysis.Summaries;

/// <summary>How much single readings of a channel scatter.</summary>
internal static class Noise
{
    // E|X| of a normal variable's median absolute value is 0.6745 sigma; a second difference has sqrt(6) times the scatter of a reading.
    private const int MostDifferences = 20_000;
    private const double MedianToSigma = 1 / 0.6745;
    private static readonly double SecondDifference = Math.Sqrt(6);

    /// <summary>
    /// Standard deviation of one reading: that of rounding to the channel's step (step / sqrt 12), or that seen in the
    /// second differences of readings under steady current, whichever is larger.
    /// </summary>
    /// <param name="channels">Channels of one session.</param>
    /// <param name="steady">Whether current was steady from the sample before to the sample after.</param>
    /// <returns>One figure a channel.</returns>
    public static double[] Of(IReadOnlyList<SampleColumn> channels, Func<int, bool> steady)
    {
        int length = channels.Count == 0 ? 0 : channels[0].Length;
        List<double>[] differences = [.. channels.Select(_ => new List<double>())];
        int stride = 1 + (length / MostDifferences);
        for (int i = 1; i < length - 1; i += stride)
        {
            if (!steady(i))
            {
                continue;
            }

            for (int c = 0; c < channels.Count; c++)
            {
                double second = channels[c][i - 1] - (2 * channels[c][i]) + channels[c][i + 1];
                if (double.IsFinite(second))
                {
                    differences[c].Add(Math.Abs(second));
                }
            }
        }

        return [.. channels.Select((values, c) => Math.Max(
            values.Figures.Step / Math.Sqrt(12),
            differences[c].Count < 8 ? 0 : differences[c].Median() * MedianToSigma / SecondDifference))];
    }
}
