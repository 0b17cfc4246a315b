namespace PackCare.Simulation.Tests;

public class RandomNumbers
{
    [Fact]
    public void The_same_seed_gives_the_same_stream_and_another_name_another()
    {
        var (one, same, other) = (Randomness.For(7, "Heron"), Randomness.For(7, "Heron"), Randomness.For(7, "Egret"));
        var first = Enumerable.Range(0, 50).Select(_ => one.NextBits()).ToArray();
        Assert.Equal(first, Enumerable.Range(0, 50).Select(_ => same.NextBits()));
        Assert.NotEqual(first, Enumerable.Range(0, 50).Select(_ => other.NextBits()));
    }

    [Fact]
    public void Normals_have_mean_0_and_standard_deviation_1_and_two_thirds_within_one()
    {
        var random = new Randomness(42);
        var values = Enumerable.Range(0, 200_000).Select(_ => random.NextNormal()).ToArray();
        Assert.InRange(values.Average(), -0.01, 0.01);
        Assert.InRange(values.Average(value => value * value), 0.985, 1.015);
        // The normal distribution has 68.27 % within one standard deviation; the sum of twelve comes close.
        Assert.InRange(values.Count(value => Math.Abs(value) < 1) / 200_000.0, 0.67, 0.69);
    }
}
