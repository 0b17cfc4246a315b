using CsCheck;
using PackCare.Analysis.Chemistries;
using PackCare.Core.Packs;

namespace PackCare.Analysis.Tests.Chemistries;

public sealed class RestVoltageCurveTests
{
    // Chen and Rincon-Mora 2006, eq. 2, evaluated by hand from the printed coefficients.
    [Theory]
    [InlineData(1, 4.1029)]
    [InlineData(0.5, 3.8034)]
    [InlineData(0.1, 3.6746)]
    public void Chen_and_Rincon_Mora_2006(double soc, double volts) =>
        Assert.Equal(volts, PublishedCurves.ChenRinconMora(soc), 5e-5);

    [Fact]
    public void The_quadratic_term_is_negative_unlike_in_some_copies()
    {
        Assert.NotEqual(4.3385, PublishedCurves.ChenRinconMora(1), 0.1);
        Assert.Equal(4.3385, PublishedCurves.ChenRinconMora(1) + (2 * 0.1178), 1e-4);
    }

    // Schmalstieg et al. 2014 fig. 1, digitised.
    [Theory]
    [InlineData(0, 3.331)]
    [InlineData(0.3, 3.627)]
    [InlineData(0.5, 3.697)]
    [InlineData(0.8, 3.965)]
    [InlineData(1, 4.162)]
    public void The_lithium_ion_curve_goes_through_the_published_table(double soc, double volts) =>
        Assert.Equal(volts, ChemistryProfile.Of(Chemistry.LiIon).Curve.VoltsAt(soc), 5e-4);

    [Theory]
    [InlineData(Chemistry.LiPo, 4.20)]
    [InlineData(Chemistry.LiHv, 4.35)]
    public void A_polymer_cell_is_full_at_its_charge_voltage(Chemistry chemistry, double volts) =>
        Assert.Equal(1, ChemistryProfile.Of(chemistry).Curve.SocAt(volts), 1e-3);

    [Fact]
    public void Every_curve_rises_and_inverts_itself() =>
        Gen.Select(Gen.Enum<Chemistry>(), Gen.Double[0.001, 0.999]).Sample((chemistry, soc) =>
        {
            RestVoltageCurve curve = ChemistryProfile.Of(chemistry).Curve;
            double volts = curve.VoltsAt(soc);
            return Math.Abs(curve.SocAt(volts) - soc) < 1e-3 && curve.SlopeAt(volts) > 0;
        });

    [Theory]
    [InlineData(Chemistry.LiPo)]
    [InlineData(Chemistry.LiHv)]
    [InlineData(Chemistry.LiIon)]
    [InlineData(Chemistry.LiFePo4)]
    public void The_levels_of_a_chemistry_are_in_order(Chemistry chemistry)
    {
        ChemistryProfile profile = ChemistryProfile.Of(chemistry);

        Assert.True(profile.EmptyUnderLoadVolts < profile.StorageLowVolts);
        Assert.True(profile.StorageLowVolts < profile.StorageHighVolts);
        Assert.True(profile.StorageHighVolts < profile.FullThresholdVolts);
        Assert.True(profile.FullThresholdVolts < profile.FullChargeVolts);
    }

    [Fact]
    public void A_curve_is_pinned_at_full_and_strays_most_where_it_is_flat()
    {
        RestVoltageCurve curve = ChemistryProfile.Of(Chemistry.LiPo).Curve;

        Assert.All(curve.Deviations(1), part => Assert.Equal(0, part, 1e-12));
        Assert.InRange(curve.SpanError(0, 1), 0.005, 0.008);
        Assert.InRange(curve.SpanError(0.3, 1), 1.3 * curve.SpanError(0.7, 1), 0.08);
    }

    // At u = 1 - s = 1/2 a Brownian motion has half its final variance; six parts of its series hold nearly all of it.
    [Fact]
    public void Half_way_the_stray_is_that_of_a_brownian_motion_over_the_slope()
    {
        RestVoltageCurve curve = ChemistryProfile.Of(Chemistry.LiIon).Curve;
        double volts = Math.Sqrt(curve.Deviations(0.5)[..^1].Sum(part => part * part)) * curve.SlopeAt(curve.VoltsAt(0.5));

        Assert.InRange(volts / curve.VoltsError, 0.65, 0.708);
    }
}
