using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using PackCare.Core.Samples;

namespace PackCare.Import.Meanings;

/// <summary>Figures of a column of numbers, in the unit it was written in.</summary>
internal sealed class NumberProfile
{
    internal int Count { get; private set; }

    internal int Missing { get; private set; }

    internal double Min { get; private set; } = double.PositiveInfinity;

    internal double Max { get; private set; } = double.NegativeInfinity;

    internal double First { get; private set; } = double.NaN;

    internal double Last { get; private set; } = double.NaN;

    internal int Falls { get; private set; }

    internal int Rises { get; private set; }

    internal double LargestStep { get; private set; }

    internal double SumOfSteps { get; private set; }

    internal bool IsConstantZero => IsConstant && Min == 0;

    internal bool IsConstant => Count > 0 && Min == Max;

    internal double LargestMagnitude => Math.Max(Math.Abs(Min), Math.Abs(Max));

    /// <summary>Figures of a whole column.</summary>
    internal static NumberProfile Of(IReadOnlyList<SampleBlock> values)
    {
        var profile = new NumberProfile();
        long[] scaled = new long[Channel.BlockRows];
        foreach (SampleBlock block in values)
        {
            int decimals = BlockCodec.Decode(block, scaled);
            profile.Join(Of(scaled.AsSpan(0, block.Count), decimals));
        }

        return profile;
    }

    /// <summary>Figures of one block of values.</summary>
    internal static NumberProfile Of(ReadOnlySpan<long> scaled, int decimals)
    {
        double divisor = Math.Pow(10, decimals);
        var walk = new Walk();
        walk.Through(scaled);
        int missing = 0;
        if (walk.Min == BlockCodec.Missing)
        {
            // What stands for "no reading" is below every number; few columns have it, and only they are walked through again.
            walk = BesideGaps(scaled, out missing);
        }

        int present = scaled.Length - missing;
        return present == 0 ? new NumberProfile { Missing = missing } : new NumberProfile
        {
            Count = present,
            Missing = missing,
            Min = walk.Min / divisor,
            Max = walk.Max / divisor,
            First = walk.First / divisor,
            Last = walk.Last / divisor,
            Falls = walk.Falls,
            Rises = walk.Rises,
            LargestStep = walk.LargestStep / divisor,
            SumOfSteps = walk.SumOfSteps / divisor,
        };
    }

    private static Walk BesideGaps(ReadOnlySpan<long> scaled, out int missing)
    {
        var walk = new Walk();
        missing = 0;
        for (int i = 0; i < scaled.Length;)
        {
            // Stretches without a gap, each with the reading before it to step from.
            int gap = scaled[i..].IndexOf(BlockCodec.Missing);
            int end = gap < 0 ? scaled.Length : i + gap;
            walk.Through(scaled[i..end]);
            for (i = end; i < scaled.Length && scaled[i] == BlockCodec.Missing; i++)
            {
                missing++;
            }
        }

        return walk;
    }

    /// <summary>Figures of the readings walked through so far.</summary>
    private struct Walk()
    {
        // Steps below this add up exactly in a double's digits, however many of a block's there are.
        private const long SmallStep = 1L << 32;

        public long Min = long.MaxValue;
        public long Max = long.MinValue;
        public long First;
        public long Last;
        public int Falls;
        public int Rises;
        public ulong LargestStep;
        public double SumOfSteps;
        private bool _any;

        public void Through(ReadOnlySpan<long> values)
        {
            if (values.IsEmpty)
            {
                return;
            }

            Take(values[0]);
            int i = 1;
            ref long start = ref MemoryMarshal.GetReference(values);
            while (i + 4 <= values.Length)
            {
                Vector256<long> lows = Vector256.Create(Min);
                Vector256<long> highs = Vector256.Create(Max);
                Vector256<long> falls = Vector256<long>.Zero;
                Vector256<long> rises = Vector256<long>.Zero;
                Vector256<long> sums = Vector256<long>.Zero;
                Vector256<long> largest = Vector256<long>.Zero;
                int from = i;
                for (; i + 4 <= values.Length; i += 4)
                {
                    Vector256<long> now = Vector256.LoadUnsafe(ref start, (nuint)i);
                    Vector256<long> step = now - Vector256.LoadUnsafe(ref start, (nuint)(i - 1));
                    Vector256<long> size = Vector256.Abs(step);
                    if (Vector256.GreaterThanAny(size, Vector256.Create(SmallStep)) || Vector256.LessThanAny(size, Vector256<long>.Zero))
                    {
                        break;
                    }

                    falls -= Vector256.LessThan(step, Vector256<long>.Zero);
                    rises -= Vector256.GreaterThan(step, Vector256<long>.Zero);
                    lows = Vector256.Min(lows, now);
                    highs = Vector256.Max(highs, now);
                    largest = Vector256.Max(largest, size);
                    sums += size;
                }

                if (i > from)
                {
                    Falls += (int)Vector256.Sum(falls);
                    Rises += (int)Vector256.Sum(rises);
                    SumOfSteps += Vector256.Sum(sums);
                    for (int k = 0; k < 4; k++)
                    {
                        Min = Math.Min(Min, lows[k]);
                        Max = Math.Max(Max, highs[k]);
                        LargestStep = Math.Max(LargestStep, (ulong)largest[k]);
                    }

                    Last = values[i - 1];
                }

                for (int end = Math.Min(values.Length, i + 4); i < end; i++)
                {
                    Take(values[i]);
                }
            }

            for (; i < values.Length; i++)
            {
                Take(values[i]);
            }
        }

        private void Take(long value)
        {
            if (_any)
            {
                long step = value - Last;
                Falls += step < 0 ? 1 : 0;
                Rises += step > 0 ? 1 : 0;
                ulong size = step < 0 ? 0 - (ulong)step : (ulong)step;
                LargestStep = Math.Max(LargestStep, size);
                SumOfSteps += size;
            }
            else
            {
                (_any, First) = (true, value);
            }

            Min = Math.Min(Min, value);
            Max = Math.Max(Max, value);
            Last = value;
        }
    }

    /// <summary>Adds the figures of the block that follows.</summary>
    internal void Join(NumberProfile next)
    {
        Missing += next.Missing;
        if (next.Count == 0)
        {
            return;
        }

        if (Count == 0)
        {
            First = next.First;
        }
        else
        {
            double step = next.First - Last;
            Falls += step < 0 ? 1 : 0;
            Rises += step > 0 ? 1 : 0;
            LargestStep = Math.Max(LargestStep, Math.Abs(step));
            SumOfSteps += Math.Abs(step);
        }

        Count += next.Count;
        Min = Math.Min(Min, next.Min);
        Max = Math.Max(Max, next.Max);
        Last = next.Last;
        Falls += next.Falls;
        Rises += next.Rises;
        LargestStep = Math.Max(LargestStep, next.LargestStep);
        SumOfSteps += next.SumOfSteps;
    }
}
