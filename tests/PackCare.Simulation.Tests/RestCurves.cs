using CsCheck;

namespace PackCare.Simulation.Tests;

public class RestCurves
{
    [Theory]
    [InlineData(1.0, 4.1029)]
    [InlineData(0.5, 3.8034)]
    [InlineData(0.1, 3.6746)]
    public void The_lithium_polymer_curve_before_stretching_is_that_of_Chen_and_Rincon_Mora_2006(double soc, double volts) =>
        Assert.Equal(volts, RestCurve.ChenRinconMora(soc), 4);

    [Fact]
    public void The_stretched_curves_end_at_their_full_voltage_and_keep_the_published_foot()
    {
        Assert.Equal(4.20, RestCurve.LiPo.Volts(1), 6);
        Assert.Equal(4.35, RestCurve.LiHv.Volts(1), 6);
        Assert.Equal(RestCurve.ChenRinconMora(0), RestCurve.LiPo.Volts(0), 4);
        Assert.Equal(RestCurve.ChenRinconMora(0), RestCurve.LiHv.Volts(0), 4);
    }

    // Schmalstieg et al. 2014 figure 1 / Ecker et al. 2014, digitised.
    [Theory]
    [InlineData(0, 3.331)]
    [InlineData(10, 3.491)]
    [InlineData(20, 3.581)]
    [InlineData(30, 3.627)]
    [InlineData(40, 3.655)]
    [InlineData(50, 3.697)]
    [InlineData(60, 3.775)]
    [InlineData(70, 3.869)]
    [InlineData(80, 3.965)]
    [InlineData(90, 4.073)]
    [InlineData(100, 4.162)]
    public void The_lithium_ion_curve_passes_through_the_published_table(double percent, double volts) =>
        Assert.Equal(volts, RestCurve.LiIon.Volts(percent / 100), 4);

    [Fact]
    public void Every_curve_rises_everywhere_and_can_be_read_backwards()
    {
        foreach (var curve in (RestCurve[])[RestCurve.LiPo, RestCurve.LiHv, RestCurve.LiIon, RestCurve.Between(0.3)])
        {
            Gen.Double[-0.04, 1.04].Sample(soc =>
            {
                Assert.True(curve.Volts(soc + 0.002) > curve.Volts(soc), $"{curve.Name} at {soc}");
                Assert.Equal(soc, curve.StateOfCharge(curve.Volts(soc)), 1e-9);
            });
        }
    }

    [Fact]
    public void A_curve_in_between_is_full_at_4_20_volts_and_lies_between_in_the_middle()
    {
        var between = RestCurve.Between(0.5);
        Assert.Equal(4.20, between.Volts(1), 6);
        Assert.InRange(between.Volts(0.5), RestCurve.LiIon.Volts(0.5), RestCurve.LiPo.Volts(0.5));
        Assert.Equal(RestCurve.LiPo.Volts(0.4), RestCurve.Between(0).Volts(0.4), 1e-9);
    }
}
