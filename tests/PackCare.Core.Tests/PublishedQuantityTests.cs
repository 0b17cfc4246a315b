using PackCare.Core.Units;

namespace PackCare.Core.Tests;

/// <summary>Quantities against published figures.</summary>
public sealed class PublishedQuantityTests
{
    /// <summary>
    /// 49 CFR 171.8 (definition of watt-hour rating): rated capacity in ampere hours times nominal voltage.
    /// Passenger limits of 100 Wh and 160 Wh: FAA PackSafe.
    /// 22.2 * 4.5 is not a whole number of halves in binary, so the product is compared to within an ulp or two of 99.9,
    /// and must fall on the right side of the limit whatever the last bit.
    /// </summary>
    [Theory]
    [InlineData(4.5, 22.2, 99.9, true)]
    [InlineData(5.0, 22.2, 111.0, false)]
    [InlineData(10.0, 14.8, 148.0, false)]
    public void The_rated_energy_of_a_pack_falls_on_the_right_side_of_100_watt_hours(double ampereHours, double volts, double wattHours, bool under)
    {
        WattHours rated = new AmpereHours(ampereHours) * new Volts(volts);

        Assert.Equal(wattHours, rated.Value, 1e-12);
        Assert.Equal(under, rated < new WattHours(100));
        Assert.True(rated < new WattHours(160));
    }

    /// <summary>A capacity as printed, in milliampere hours, gives the same energy.</summary>
    [Fact]
    public void The_rated_energy_does_not_depend_on_how_the_capacity_is_written() =>
        Assert.Equal(
            (new AmpereHours(4.5) * new Volts(22.2)).Value,
            (AmpereHours.FromMilliampereHours(4500) * Volts.FromMillivolts(22_200)).Value,
            1e-12);

    /// <summary>
    /// Fixed points of the scales: NIST SP 811, B.8 (t/C = (t/F - 32)/1.8; T/K = t/C + 273.15).
    /// 170 F as the upper temperature of a motor: common practice, no source; its value in Celsius follows from NIST SP 811.
    /// </summary>
    [Theory]
    [InlineData(32, 0)]
    [InlineData(212, 100)]
    [InlineData(-40, -40)]
    [InlineData(170, 76.7)]
    public void Fahrenheit_converts_as_defined(double fahrenheit, double celsius)
    {
        Celsius temperature = Celsius.FromFahrenheit(fahrenheit);

        Assert.Equal(celsius, temperature.Value, 0.05);
        Assert.Equal(fahrenheit, temperature.Fahrenheit, 1e-9);
    }

    /// <summary>NIST SP 811, B.8.</summary>
    [Fact]
    public void Room_temperature_is_298_15_kelvins() => Assert.Equal(298.15, new Celsius(25).Kelvins, 1e-12);

    /// <summary>One watt hour is 3.6 kilojoules: NIST SP 811, B.8.</summary>
    [Fact]
    public void A_watt_hour_is_3_6_kilojoules()
    {
        Assert.Equal(3.6, new WattHours(1).Kilojoules, 1e-15);
        Assert.Equal(1, WattHours.FromKilojoules(3.6).Value, 1e-15);
    }
}
