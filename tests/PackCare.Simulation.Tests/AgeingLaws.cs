namespace PackCare.Simulation.Tests;

public class AgeingLaws
{
    // After one year, computed from the published law of Schmalstieg et al., J. Power Sources 257 (2014) 325-334.
    [Theory]
    [InlineData(25, 3.70, 0.0240)]
    [InlineData(25, 4.162, 0.0440)]
    [InlineData(40, 3.70, 0.0735)]
    [InlineData(40, 4.162, 0.135)]
    public void Capacity_lost_in_a_year_of_storage_follows_Schmalstieg_2014(double celsius, double volts, double loss) =>
        Assert.InRange(Ageing.Advance(0, Ageing.CapacityRate(volts, celsius), 365), loss * 0.995, loss * 1.005);

    [Theory]
    [InlineData(3.70, 0.0507)]
    [InlineData(4.162, 0.0895)]
    public void Resistance_gained_in_a_year_of_storage_follows_Schmalstieg_2014(double volts, double growth) =>
        Assert.InRange(Ageing.Advance(0, Ageing.ResistanceRate(volts, 25), 365), growth * 0.995, growth * 1.005);

    [Fact]
    public void A_year_of_single_days_equals_one_step_of_a_year()
    {
        var rate = Ageing.CapacityRate(3.85, 25);
        var loss = 0.0;
        for (var day = 0; day < 365; day++)
        {
            loss = Ageing.Advance(loss, rate, 1);
        }

        Assert.Equal(Ageing.Advance(0, rate, 365), loss, 12);
    }

    [Fact]
    public void Below_the_voltages_of_the_law_nothing_ages() =>
        Assert.Equal(0.01, Ageing.Advance(0.01, Ageing.CapacityRate(3.0, 25), 100));
}
