using PackCare.Analysis.Summaries;

namespace PackCare.Analysis.Tests.Sessions;

/// <summary>The scatter of readings, found several samples at a time, is that which one sample after the other gives.</summary>
public sealed class NoiseTests
{
    private const int MostDifferences = 20_000;

    [Theory]
    [InlineData(3)]
    [InlineData(40)]
    [InlineData(15_000)]
    [InlineData(65_536)]
    [InlineData(65_537)]
    [InlineData(70_001)]
    [InlineData(200_003)]
    public void Second_differences_under_steady_current_tell_the_scatter(int count)
    {
        var random = new Random(count);
        double[] amperes = new double[count];
        double[] volts = new double[count];
        for (int i = 0; i < count; i++)
        {
            amperes[i] = i / 97 % 3 == 0 ? random.Next(9) : 2;
            volts[i] = i % 211 == 5 ? double.NaN : Math.Round(3.7 + (0.004 * (random.NextDouble() - random.NextDouble())), 3);
        }

        using SampleColumn current = Column(amperes);
        using SampleColumn channel = Column(volts);
        using SampleColumn fine = Column([.. volts.Select(value => value + (1e-4 * random.NextDouble()))]);
        double[] noises = Noise.Of([channel, fine], current, 0.5);

        Assert.Equal(Expected(channel, current), noises[0], 12);
        Assert.Equal(Expected(fine, current), noises[1], 12);
    }

    private static SampleColumn Column(double[] values) => new(values.Length, (page, into) =>
        values.AsSpan(page * SampleColumn.PageRows, Math.Min(into.Length, values.Length - (page * SampleColumn.PageRows))).CopyTo(into));

    private static double Expected(SampleColumn channel, SampleColumn current)
    {
        var sizes = new List<double>();
        int stride = 1 + (current.Length / MostDifferences);
        for (int i = 1; i < current.Length - 1; i += stride)
        {
            double second = channel[i - 1] - (2 * channel[i]) + channel[i + 1];
            if (Math.Abs(current[i + 1] - current[i - 1]) <= 0.5 && double.IsFinite(second))
            {
                sizes.Add(Math.Abs(second));
            }
        }

        sizes.Sort();
        double rounding = channel.Figures.Step / Math.Sqrt(12);
        return sizes.Count < 8 ? rounding : Math.Max(rounding, (sizes[(sizes.Count - 1) / 2] + sizes[sizes.Count / 2]) / 2 / 0.6745 / Math.Sqrt(6));
    }
}
