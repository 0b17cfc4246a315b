using CsCheck;
using PackCare.Analysis.FullCharge;
using PackCare.Analysis.Resistance;

namespace PackCare.Analysis.Tests.FullCharge;

public sealed class CalendarLossTests
{
    // Schmalstieg et al. 2014, J. Power Sources 257, 325-334, their formula worked out for a year.
    [Theory]
    [InlineData(3.70, 25, 2.40)]
    [InlineData(4.162, 25, 4.40)]
    [InlineData(3.70, 40, 7.35)]
    [InlineData(4.162, 40, 13.5)]
    public void Schmalstieg_2014_capacity_lost_in_a_year(double volts, double celsius, double percent) =>
        Assert.Equal(percent, 100 * CalendarLoss.Step(0, CalendarLoss.SchmalstiegAlpha(volts, celsius), 365), percent * 0.006);

    [Theory]
    [InlineData(3.70, 5.07)]
    [InlineData(4.162, 8.95)]
    public void Schmalstieg_2014_resistance_gained_in_a_year(double volts, double percent) =>
        Assert.Equal(percent, 100 * CalendarLoss.Step(0, CalendarLoss.SchmalstiegBeta(volts, 25), 365), percent * 0.006);

    [Fact]
    public void Many_short_steps_equal_one_long_one() =>
        Gen.Select(Gen.Int[1, 400], Gen.Double[3.5, 4.2], Gen.Double[0, 45]).Sample((days, volts, celsius) =>
        {
            double alpha = CalendarLoss.SchmalstiegAlpha(volts, celsius);
            double once = CalendarLoss.Step(0, alpha, days);
            double daily = Enumerable.Range(0, days).Aggregate(0.0, (loss, _) => CalendarLoss.Step(loss, alpha, 1));
            return Math.Abs(once - daily) < 1e-9;
        });

    // Battery University BU-808, table 3: recoverable after a year at 40 % and at 100 % charge; the row of 25 C checked, the others from memory.
    [Theory]
    [InlineData(0, 4)]
    [InlineData(25, 16)]
    [InlineData(40, 20)]
    public void BU_808_table_3_extra_loss_of_a_year_at_full_charge(double celsius, double percent) =>
        Assert.Equal(percent, 100 * CalendarLoss.Table3Extra(365, celsius), 1e-9);

    // The publication gives the temperature dependence as exp(-6976 K / T): an activation energy of 6976 K times the gas constant, 58 kJ/mol.
    [Fact]
    public void Arrhenius_ratio_from_a_published_activation_energy()
    {
        double ratio = TemperatureCorrection.Ratio(25, 40, 6976 * TemperatureCorrection.GasConstant);

        Assert.Equal(7.35 / 2.40, ratio, 0.02);
        Assert.Equal(CalendarLoss.SchmalstiegAlpha(3.9, 40) / CalendarLoss.SchmalstiegAlpha(3.9, 25), ratio, 1e-9);
    }
}
