using CsCheck;
using MathNet.Numerics.Statistics;
using PackCare.Analysis.Statistics;
using PackCare.Analysis.Summaries;

namespace PackCare.Analysis.Tests.Sessions;

/// <summary>What is solved in closed form for speed is what the general library finds.</summary>
public class ClosedFormTests
{
    [Fact]
    public void Shift_and_stretch_are_those_of_the_general_least_squares() => Gen.Select(Gen.Double[-3, 3].Array[30, 120], Gen.Double[-0.02, 0.02].Array[120], Gen.Double[0.1, 5], Gen.Bool).Sample((wiggles, residuals, ampereHours, withConstant) =>
    {
        int count = wiggles.Length;
        double[] q = [.. Enumerable.Range(0, count).Select(i => ampereHours * (i + 0.5) / count)];
        double[] slope = [.. wiggles.Select(wiggle => 0.2 + (0.05 * wiggle * wiggle))];
        double[] residual = residuals[..count];
        var design = new double[count, withConstant ? 3 : 2];
        for (int i = 0; i < count; i++)
        {
            design[i, 0] = slope[i];
            design[i, 1] = slope[i] * q[i];
            if (withConstant)
            {
                design[i, 2] = 1;
            }
        }

        LinearFit general = LinearModel.Fit(design, residual)!;
        ShiftAndStretch closed = ShiftAndStretch.Solve(q, slope, residual, withConstant)!;

        AssertClose(general.Parameters[0], closed.Shift);
        AssertClose(general.Parameters[1], closed.Stretch);
        AssertClose(withConstant ? general.Parameters[2] : 0, closed.Constant);
        AssertClose(general.UnscaledCovariance[0, 0], closed.ShiftVariance);
        AssertClose(general.UnscaledCovariance[1, 1], closed.StretchVariance);
        double[] left = [.. residual];
        closed.TakeOff(q, slope, left);
        AssertClose(general.ResidualStandardDeviation, closed.ResidualDeviation(left));
    });

    [Fact]
    public void A_slope_that_is_the_same_everywhere_cannot_be_told_from_a_constant()
    {
        double[] q = [.. Enumerable.Range(0, 50).Select(i => i * 0.04)];
        double[] slope = [.. q.Select(_ => 0.3)];

        Assert.Null(ShiftAndStretch.Solve(q, slope, [.. q.Select(at => 0.01 * at)], withConstant: true));
        Assert.NotNull(ShiftAndStretch.Solve(q, slope, [.. q.Select(at => 0.01 * at)], withConstant: false));
    }

    [Fact]
    public void The_median_of_a_few_is_that_of_the_library() => Gen.Double[-5, 5].Array[1, 40].Sample(values =>
        Assert.Equal(values.Median(), Medians.Of([.. values])));

    [Theory]
    [InlineData(1)]
    [InlineData(7)]
    public void Noise_is_that_of_the_second_differences_whether_they_are_whole_steps_or_not(int finer)
    {
        // The log shows whole millivolts, or parts of one: then counting steps is not enough.
        var random = new Random(11);
        double[] volts = [.. Enumerable.Range(0, 3000).Select(_ => 3.8 + (random.Next(-4, 5) * 0.001) + (random.Next(finer) * 0.001 / finer))];
        double[] second = [.. Enumerable.Range(1, volts.Length - 2).Select(i => Math.Abs(volts[i - 1] - (2 * volts[i]) + volts[i + 1]))];
        SampleColumn Column(double[] values) => new(values.Length, (_, into) => values.CopyTo(into, 0));

        double noise = Noise.Of([Column(volts)], Column(new double[volts.Length]), 0.1)[0];

        Assert.Equal(second.Median() / 0.6745 / Math.Sqrt(6), noise, 1e-9);
    }

    private static void AssertClose(double expected, double actual) => Assert.Equal(expected, actual, 1e-7 * Math.Max(1e-3, Math.Abs(expected)));
}
