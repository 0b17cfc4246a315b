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
        long min = long.MaxValue;
        long max = long.MinValue;
        long previous = BlockCodec.Missing;
        ulong largest = 0;
        double sum = 0;
        int falls = 0;
        int rises = 0;
        int missing = 0;
        long first = BlockCodec.Missing;
        foreach (long value in scaled)
        {
            if (value == BlockCodec.Missing)
            {
                missing++;
                continue;
            }

            if (previous != BlockCodec.Missing)
            {
                long step = value - previous;
                falls += step < 0 ? 1 : 0;
                rises += step > 0 ? 1 : 0;
                ulong size = (ulong)Math.Abs(step);
                largest = Math.Max(largest, size);
                sum += size;
            }
            else
            {
                first = value;
            }

            min = Math.Min(min, value);
            max = Math.Max(max, value);
            previous = value;
        }

        int present = scaled.Length - missing;
        return present == 0 ? new NumberProfile { Missing = missing } : new NumberProfile
        {
            Count = present,
            Missing = missing,
            Min = min / divisor,
            Max = max / divisor,
            First = first / divisor,
            Last = previous / divisor,
            Falls = falls,
            Rises = rises,
            LargestStep = largest / divisor,
            SumOfSteps = sum / divisor,
        };
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
