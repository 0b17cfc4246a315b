using System.Buffers;
using MathNet.Numerics.Statistics;

namespace PackCare.Analysis.Summaries;

/// <summary>How much single readings of a channel scatter.</summary>
internal static class Noise
{
    // E|X| of a normal variable's median absolute value is 0.6745 sigma; a second difference has sqrt(6) times the scatter of a reading.
    private const int MostDifferences = 20_000;
    private const int FewestDifferences = 8;
    private const double MedianToSigma = 1 / 0.6745;
    private static readonly double SecondDifference = Math.Sqrt(6);

    /// <summary>
    /// Standard deviation of one reading: that of rounding to the channel's step (step / sqrt 12), or that seen in the
    /// second differences of readings under steady current, whichever is larger.
    /// </summary>
    /// <param name="channels">Channels of one session.</param>
    /// <param name="current">Its current, in amperes.</param>
    /// <param name="steadyAmperes">Current is steady where it differs by no more from the sample before to the sample after.</param>
    /// <returns>One figure a channel.</returns>
    public static double[] Of(IReadOnlyList<SampleColumn> channels, SampleColumn current, double steadyAmperes)
    {
        int stride = 1 + (current.Length / MostDifferences);
        var differences = new double[]?[channels.Count];
        var counts = new int[channels.Count];
        for (int i = 1; i < current.Length - 1; i += stride)
        {
            // All channels sample by sample, so that a long session is walked through only once.
            if (!(Math.Abs(current[i + 1] - current[i - 1]) <= steadyAmperes))
            {
                continue;
            }

            for (int c = 0; c < differences.Length; c++)
            {
                SampleColumn channel = channels[c];
                double second = channel[i - 1] - (2 * channel[i]) + channel[i + 1];
                if (double.IsFinite(second))
                {
                    (differences[c] ??= ArrayPool<double>.Shared.Rent((current.Length / stride) + 1))[counts[c]++] = Math.Abs(second);
                }
            }
        }

        var noises = new double[channels.Count];
        for (int c = 0; c < noises.Length; c++)
        {
            double rounding = channels[c].Figures.Step / Math.Sqrt(12);
            double seen = counts[c] < FewestDifferences ? 0 : Median(differences[c].AsSpan(0, counts[c]), channels[c].Figures.Step) * MedianToSigma / SecondDifference;
            noises[c] = Math.Max(rounding, seen);
        }

        foreach (double[]? rented in differences)
        {
            if (rented is not null)
            {
                ArrayPool<double>.Shared.Return(rented);
            }
        }

        return noises;
    }

    // Nearly all second differences are a few steps of the log, so that counting them is enough to find the middle one.
    private static double Median(ReadOnlySpan<double> values, double step)
    {
        const int Bins = 64;
        Span<int> counts = stackalloc int[Bins + 1];
        counts.Clear();
        if (step > 0)
        {
            double perStep = 1 / step;
            double off = 0;
            foreach (double value in values)
            {
                double steps = Math.Min(value * perStep, Bins);
                int bin = (int)(steps + 0.5);
                counts[bin]++;
                off = Math.Max(off, Math.Abs(steps - bin));
            }

            if (off < 1e-6 && Counted(counts[..Bins], (values.Length - 1) / 2) is { } low && Counted(counts[..Bins], values.Length / 2) is { } high)
            {
                return (low + high) / 2.0 * step;
            }
        }

        return ArrayStatistics.MedianInplace(values.ToArray());
    }

    // Which bin holds the value of a rank from 0; null where it lies beyond them all.
    private static int? Counted(ReadOnlySpan<int> counts, int rank)
    {
        for (int bin = 0; bin < counts.Length; bin++)
        {
            if (rank < counts[bin])
            {
                return bin;
            }

            rank -= counts[bin];
        }

        return null;
    }
}
