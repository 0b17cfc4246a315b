using CsCheck;
using PackCare.Core.Samples;
using PackCare.Import.Meanings;

namespace PackCare.Import.Tests;

/// <summary>The figures of a block, several readings at a time, are those that one reading after the other gives.</summary>
public class NumberProfileTests
{
    private static readonly Gen<long> Reading = Gen.Frequency(
        (30, Gen.Long[-200, 200]),
        (1, Gen.Long[-(1L << 40), 1L << 40]),
        (2, Gen.Const(BlockCodec.Missing)));

    [Fact]
    public void Figures_are_those_of_one_reading_after_the_other() => Gen.Select(Reading.Array[0, 200], Gen.Int[0, 6]).Sample((scaled, decimals) =>
    {
        double unit = Math.Pow(10, decimals);
        long[] there = [.. scaled.Where(value => value != BlockCodec.Missing)];
        long[] steps = [.. there.Skip(1).Zip(there, (now, before) => now - before)];

        NumberProfile profile = NumberProfile.Of(scaled, decimals);

        Assert.Equal(there.Length, profile.Count);
        Assert.Equal(scaled.Length - there.Length, profile.Missing);
        Assert.Equal(steps.Count(step => step < 0), profile.Falls);
        Assert.Equal(steps.Count(step => step > 0), profile.Rises);
        Assert.Equal(steps.Select(Math.Abs).DefaultIfEmpty().Max() / unit, profile.LargestStep);
        Assert.Equal(steps.Sum(step => (double)Math.Abs(step)) / unit, profile.SumOfSteps);
        Assert.Equal(there.Length == 0 ? double.NaN : there[0] / unit, profile.First);
        Assert.Equal(there.Length == 0 ? double.NaN : there[^1] / unit, profile.Last);
        Assert.Equal(there.Length == 0 ? double.PositiveInfinity : there.Min() / unit, profile.Min);
        Assert.Equal(there.Length == 0 ? double.NegativeInfinity : there.Max() / unit, profile.Max);
    });
}
