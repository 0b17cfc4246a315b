using PackCare.Analysis.Resistance;

namespace PackCare.Analysis.Tests.Resistance;

public sealed class TemperatureCorrectionTests
{
    [Fact]
    public void At_the_reference_nothing_is_changed_and_nothing_is_uncertain() =>
        Assert.Equal((1.0, 0.0), TemperatureCorrection.To25(25)!.Value);

    [Fact]
    public void Cold_raises_resistance_so_the_correction_lowers_it()
    {
        (double factor, double error) = TemperatureCorrection.To25(10)!.Value;

        // exp(-15000/8.314462618 (1/283.15 - 1/298.15)) = exp(-0.32055), worked by hand.
        Assert.Equal(0.72575, factor, 1e-4);
        Assert.Equal(0.0617, error, 1e-3);
    }

    [Theory]
    [InlineData(4.9)]
    [InlineData(45.1)]
    [InlineData(double.NaN)]
    public void Too_far_from_the_reference_there_is_no_correction(double celsius) =>
        Assert.Null(TemperatureCorrection.To25(celsius));
}
