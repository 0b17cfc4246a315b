namespace PackCare.Simulation.Tests;

public class Sessions
{
    [Fact]
    public void A_balanced_charge_ends_full_and_even()
    {
        var pack = Uneven();
        var session = new SimulatedSession(pack, Instrument.Perfect, new Randomness(1), 22);
        session.Rest(30);
        Assert.True(session.Charge(Plan(bleed: 0.25)));
        session.Rest(300);
        var volts = Enumerable.Range(0, 4).Select(cell => pack.Truth(cell).RestVolts).ToArray();
        Assert.InRange(volts.Max() - volts.Min(), 0, 0.005);
        Assert.InRange(volts.Max(), 4.19, 4.2001);
    }

    [Fact]
    public void Without_balancing_the_cells_end_as_far_apart_as_they_began()
    {
        var pack = Uneven();
        var session = new SimulatedSession(pack, Instrument.Perfect, new Randomness(1), 22);
        Assert.True(session.Charge(Plan(bleed: 0)));
        var states = Enumerable.Range(0, 4).Select(cell => pack.Truth(cell).StateOfCharge).ToArray();
        Assert.Equal(0.04, states.Max() - states.Min(), 4);
    }

    [Fact]
    public void The_charge_counter_is_the_integral_of_the_current_with_the_gain_of_the_instrument()
    {
        var session = new SimulatedSession(Uneven(), Instrument.Perfect with { AmpereGain = 1.01 }, new Randomness(1), 22);
        session.Charge(Plan(bleed: 0.25));
        session.Rest(60);
        var log = session.Finish();
        // Each sample shows the current of the second before it.
        Assert.Equal(log.Amperes.Sum() / 3600, log.ChargeAh[^1], 1e-9);
        Assert.Equal(session.TrueChargeAh * 1.01, log.ChargeAh[^1], 1e-9);
    }

    [Fact]
    public void The_pack_voltage_is_the_sum_of_the_cells_plus_the_drop_in_the_leads()
    {
        var session = new SimulatedSession(Uneven(), Instrument.Perfect, new Randomness(1), 22);
        session.Flow(-20, 30);
        var log = session.Finish();
        for (var i = 0; i < log.Count; i++)
        {
            Assert.Equal(log.CellVolts.Sum(cell => cell[i]) + (0.004 * log.Amperes[i]), log.PackVolts[i], 1e-9);
        }
    }

    [Fact]
    public void An_instrument_shows_multiples_of_its_resolution_at_its_interval()
    {
        var session = new SimulatedSession(Uneven(), new Instrument { IntervalSeconds = 5 }, new Randomness(1), 22);
        session.Flow(3.333, 100);
        var log = session.Finish();
        Assert.Equal(Enumerable.Range(0, 21).Select(i => 5.0 * i), log.Seconds);
        Assert.All(log.CellVolts.SelectMany(cell => cell), volts => Assert.Equal(Math.Round(volts, 3), volts, 9));
        Assert.All(log.Amperes, amperes => Assert.Equal(Math.Round(amperes, 2), amperes, 9));
        Assert.All(log.Celsius, celsius => Assert.Equal(Math.Round(celsius, 1), celsius, 9));
    }

    [Fact]
    public void A_discharge_to_a_voltage_fades_out_there()
    {
        var pack = Uneven();
        pack.Step(1800, 3, 25);
        var session = new SimulatedSession(pack, Instrument.Perfect, new Randomness(1), 22);
        session.DischargeTo(2.5, 3.82, 0.25);
        Assert.InRange(Enumerable.Range(0, 4).Average(cell => pack.Truth(cell).RestVolts), 3.820, 3.825);
    }

    private static ChargePlan Plan(double bleed) => new() { Amperes = 5, EndVolts = 4.20, EndAmperes = 0.25, BleedAmperes = bleed };

    private static readonly double[] States = [0.45, 0.46, 0.42, 0.44];

    private static SimulatedPack Uneven() => new(new PackModel
    {
        RatedAh = 5,
        HeatJoulesPerKelvin = 500,
        Cells = [.. States.Select(soc => new CellModel
        {
            Curve = RestCurve.LiPo,
            CapacityAh = 5,
            OhmicOhms = 0.0026,
            SlowOhms = 0.0016,
            SelfDischargePerMonth = 0,
            InitialStateOfCharge = soc,
        })],
    });
}
