using CsCheck;

namespace PackCare.Simulation.Tests;

public class PackPhysics
{
    private static readonly CellModel Ideal = new()
    {
        Curve = RestCurve.LiPo,
        CapacityAh = 5,
        OhmicOhms = 0.003,
        SlowOhms = 0.002,
        SlowSeconds = 30,
        ActivationJoulesPerMole = 0,
        SelfDischargePerMonth = 0,
        StoredAgeing = 0,
        FadePerCycle = 0,
        GrowthPerCycle = 0,
        InitialStateOfCharge = 0.6,
    };

    [Fact]
    public void Charge_is_conserved() => Gen.Double[-20, 5].Array[1, 60].Sample(flows =>
    {
        var pack = Pack(Ideal with { InitialStateOfCharge = 0.6 });
        foreach (var flow in flows)
        {
            pack.Step(10, flow, 25);
        }

        Assert.Equal(0.6 + (flows.Sum() * 10 / 3600 / 5), pack.Truth(0).StateOfCharge, 1e-9);
        Assert.Equal(flows.Sum(Math.Abs) * 10 / 3600, pack.ThroughputAh, 1e-9);
    });

    [Fact]
    public void Energy_put_in_is_energy_stored_plus_heat()
    {
        var pack = Pack(Ideal);
        var (start, slowBefore) = (pack.Truth(0).StateOfCharge, pack.SlowJoules);
        double put = 0;
        const double Step = 0.05;
        foreach (var (amperes, seconds) in (ReadOnlySpan<(double, double)>)[(5, 300), (-20, 60), (0, 40), (8, 200), (-3, 120)])
        {
            for (var time = 0.0; time < seconds - (Step / 2); time += Step)
            {
                var before = pack.CellVolts(0, amperes);
                pack.Step(Step, amperes, 25);
                put += 0.5 * (before + pack.CellVolts(0, amperes)) * amperes * Step;
            }
        }

        // Chemical energy: the integral of the rest voltage over the charge, by Simpson's rule.
        var end = pack.Truth(0).StateOfCharge;
        var stored = 5 * 3600 * (end - start) / 6 * (RestCurve.LiPo.Volts(start) + (4 * RestCurve.LiPo.Volts(0.5 * (start + end))) + RestCurve.LiPo.Volts(end));
        Assert.Equal(put, stored + (pack.SlowJoules - slowBefore) + pack.HeatJoules, 0.001 * pack.HeatJoules);
    }

    [Theory]
    [InlineData(0, 0.003)]
    [InlineData(30, 0.003 + (0.002 * 0.632120558829))]
    [InlineData(600, 0.005)]
    public void A_current_step_shows_the_stated_resistance_at_its_lag(double lag, double ohms)
    {
        // A large cell, so that the charge moved does not shift the rest voltage.
        var pack = Pack(Ideal with { CapacityAh = 5e6 });
        var before = pack.CellVolts(0, 0);
        for (var second = 0; second < lag; second++)
        {
            pack.Step(1, -10, 25);
        }

        Assert.Equal(ohms, (before - pack.CellVolts(0, -10)) / 10, 6);
        Assert.Equal(ohms, pack.Truth(0).StepOhms(lag), 1e-9);
    }

    [Theory]
    [InlineData(25, 1.0)]
    [InlineData(5, 1.545)]
    [InlineData(40, 0.748)]
    public void Resistance_follows_Arrhenius_with_15_kilojoules_per_mole(double celsius, double factor)
    {
        // exp(15000 / 8.314462618 (1/T - 1/298.15)), worked out by hand.
        var pack = Pack(Ideal with { ActivationJoulesPerMole = 15_000 });
        pack.SetTemperature(celsius);
        Assert.Equal(factor, pack.OhmicOhmsNow(0) / 0.003, 3);
    }

    [Fact]
    public void A_pack_warms_towards_ambient_plus_power_times_thermal_resistance()
    {
        var pack = new SimulatedPack(new PackModel { Cells = [Ideal with { CapacityAh = 5e6 }], RatedAh = 5, HeatJoulesPerKelvin = 100, CoolingSeconds = 500 });
        for (var second = 0; second < 10_000; second++)
        {
            pack.Step(1, -10, 20);
        }

        // 100 A^2 x 5 mOhm = 0.5 W over 100/500 W/K.
        Assert.Equal(20 + 2.5, pack.Celsius, 2);
    }

    [Fact]
    public void Self_discharge_takes_its_share_a_month_from_the_charge_held()
    {
        var pack = Pack(Ideal with { SelfDischargePerMonth = 0.1 });
        pack.Rest(60, 25);
        Assert.Equal(0.6 * Math.Exp(-0.2), pack.Truth(0).StateOfCharge, 1e-9);
    }

    [Fact]
    public void A_cell_that_fades_keeps_its_rest_voltage_and_loses_what_it_is_told_to()
    {
        var pack = Pack(Ideal with { FadePerCycle = 0.001, GrowthPerCycle = 0.01 });
        for (var cycle = 0; cycle < 10; cycle++)
        {
            pack.Step(1800, -5, 25);
            pack.Step(1800, 5, 25);
        }

        var before = pack.Truth(0).RestVolts;
        pack.Rest(0.01, 25);
        Assert.Equal(before, pack.Truth(0).RestVolts, 1e-9);
        Assert.Equal(5, pack.Cycles, 6);
        Assert.Equal(5 * 0.995, pack.Truth(0).CapacityAh, 1e-9);
        Assert.Equal(0.003 * 1.05, pack.Truth(0).OhmicOhms, 1e-9);
    }

    private static SimulatedPack Pack(CellModel cell) =>
        new(new PackModel { Cells = [cell], RatedAh = 5, HeatJoulesPerKelvin = 1e9 });
}
