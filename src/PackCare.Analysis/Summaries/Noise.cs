using System.Buffers;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
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
        var differences = new double[channels.Count][];
        var counts = new int[channels.Count];
        var steady = new List<(int From, int To)>();
        for (int page = 0; page < current.Pages; page++)
        {
            FindSteady(current, page, stride, steadyAmperes, steady);
            for (int c = 0; c < differences.Length && steady.Count > 0; c++)
            {
                differences[c] ??= ArrayPool<double>.Shared.Rent((current.Length / stride) + 1);
                counts[c] = AddDifferences(channels[c], page, steady, differences[c], counts[c]);
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

    // Runs of samples of one page, the last one excluded, between whose neighbours the current stays the same.
    private static void FindSteady(SampleColumn current, int page, int stride, double steadyAmperes, List<(int From, int To)> steady)
    {
        steady.Clear();
        int first = page * SampleColumn.PageRows;
        int end = Math.Min(current.Length - 1, first + SampleColumn.PageRows);
        // Samples are taken by strides from the second one of all.
        int start = Math.Max(1, first + ((stride + 1 - (first % stride)) % stride));
        int from = -1;
        for (int i = start; i < end; i += stride)
        {
            bool isSteady = Math.Abs(current[i + 1] - current[i - 1]) <= steadyAmperes;
            if (isSteady && from < 0)
            {
                from = i;
            }

            if (from >= 0 && (!isSteady || stride > 1))
            {
                steady.Add((from, isSteady ? i + 1 : i));
                from = -1;
            }
        }

        if (from >= 0)
        {
            steady.Add((from, end));
        }
    }

    // Second differences at those samples; the first and the last of a page have a neighbour in another.
    private static int AddDifferences(SampleColumn channel, int page, List<(int From, int To)> steady, double[] into, int count)
    {
        int first = page * SampleColumn.PageRows;
        ReadOnlySpan<double> values = channel.Page(page);
        foreach ((int from, int to) in steady)
        {
            int low = Math.Max(from - first, 1);
            int high = Math.Max(low, Math.Min(to - first, values.Length - 1));
            count = AddDifferences(values, low, high, into, count);
        }

        if (steady[0].From == first && page > 0)
        {
            count = Add(channel[first - 1] - (2 * channel[first]) + channel[first + 1], into, count);
        }

        int last = first + SampleColumn.PageRows - 1;
        if (steady[^1].To > last)
        {
            count = Add(channel[last - 1] - (2 * channel[last]) + channel[last + 1], into, count);
        }

        return count;
    }

    private static int AddDifferences(ReadOnlySpan<double> values, int from, int to, double[] into, int count)
    {
        ref double start = ref MemoryMarshal.GetReference(values);
        ref double target = ref MemoryMarshal.GetArrayDataReference(into);
        int i = from;
        while (i < to)
        {
            for (; i + 4 <= to; i += 4)
            {
                Vector256<double> seconds = Vector256.LoadUnsafe(ref start, (nuint)(i - 1)) - (Vector256.Create(2.0) * Vector256.LoadUnsafe(ref start, (nuint)i)) + Vector256.LoadUnsafe(ref start, (nuint)(i + 1));
                Vector256<double> sizes = Vector256.Abs(seconds);
                if (!Vector256.LessThanAll(sizes, Vector256.Create(double.PositiveInfinity)))
                {
                    break;
                }

                sizes.StoreUnsafe(ref target, (nuint)count);
                count += 4;
            }

            for (int end = Math.Min(to, i + 4); i < end; i++)
            {
                count = Add(values[i - 1] - (2 * values[i]) + values[i + 1], into, count);
            }
        }

        return count;
    }

    private static int Add(double second, double[] into, int count)
    {
        if (!double.IsFinite(second))
        {
            return count;
        }

        into[count] = Math.Abs(second);
        return count + 1;
    }

    // Nearly all second differences are a few steps of the log, so that counting them is enough to find the middle one.
    private static double Median(ReadOnlySpan<double> values, double step)
    {
        const int Bins = 64;
        const int Tables = 4;
        Span<int> counts = stackalloc int[Tables * (Bins + 1)];
        counts.Clear();
        if (step > 0)
        {
            double perStep = 1 / step;
            double off = 0;
            int i = 0;
            ref double start = ref MemoryMarshal.GetReference(values);
            Vector256<double> offs = Vector256<double>.Zero;
            for (; i + 4 <= values.Length; i += 4)
            {
                Vector256<double> steps = Vector256.MinNative(Vector256.LoadUnsafe(ref start, (nuint)i) * Vector256.Create(perStep), Vector256.Create((double)Bins));
                Vector256<double> bins = Vector256.Truncate(steps + Vector256.Create(0.5));
                offs = Vector256.MaxNative(offs, Vector256.Abs(steps - bins));

                // A table for each, since one that is counted up again at once has to wait for itself.
                counts[(int)bins[0]]++;
                counts[(int)bins[1] + (Bins + 1)]++;
                counts[(int)bins[2] + (2 * (Bins + 1))]++;
                counts[(int)bins[3] + (3 * (Bins + 1))]++;
            }

            for (; i < values.Length; i++)
            {
                double steps = Math.Min(values[i] * perStep, Bins);
                int bin = (int)(steps + 0.5);
                counts[bin]++;
                off = Math.Max(off, Math.Abs(steps - bin));
            }

            for (int bin = 0; bin <= Bins; bin++)
            {
                counts[bin] += counts[bin + (Bins + 1)] + counts[bin + (2 * (Bins + 1))] + counts[bin + (3 * (Bins + 1))];
            }

            for (int lane = 0; lane < 4; lane++)
            {
                off = Math.Max(off, offs[lane]);
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
