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

    /// <summary>Goes through a column once.</summary>
    internal static NumberProfile Of(IReadOnlyList<SampleBlock> values)
    {
        var profile = new NumberProfile();
        long[] scaled = new long[Channel.BlockRows];
        foreach (SampleBlock block in values)
        {
            double divisor = Math.Pow(10, BlockCodec.Decode(block, scaled));
            profile.Add(scaled.AsSpan(0, block.Count), divisor);
        }

        return profile;
    }

    private void Add(ReadOnlySpan<long> scaled, double divisor)
    {
        long min = long.MaxValue;
        long max = long.MinValue;
        long previous = double.IsNaN(Last) ? BlockCodec.Missing : (long)Math.Round(Last * divisor);
        long largest = 0;
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
                if (step < 0)
                {
                    falls++;
                    step = -step;
                }
                else if (step > 0)
                {
                    rises++;
                }

                largest = Math.Max(largest, step);
                sum += step;
            }

            if (first == BlockCodec.Missing)
            {
                first = value;
            }

            min = Math.Min(min, value);
            max = Math.Max(max, value);
            previous = value;
        }

        Missing += missing;
        Falls += falls;
        Rises += rises;
        int present = scaled.Length - missing;
        if (present == 0)
        {
            return;
        }

        if (Count == 0)
        {
            First = first / divisor;
        }

        Count += present;
        Min = Math.Min(Min, min / divisor);
        Max = Math.Max(Max, max / divisor);
        Last = previous / divisor;
        LargestStep = Math.Max(LargestStep, largest / divisor);
        SumOfSteps += sum / divisor;
    }
}
