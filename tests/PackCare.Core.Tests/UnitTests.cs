using System.Reflection;
using CsCheck;
using PackCare.Core.Units;

namespace PackCare.Core.Tests;

public sealed class UnitTests
{
    private static readonly Gen<double> Figure = Gen.Double[-1e6, 1e6];

    [Fact]
    public void Milli_figures_go_there_and_back() => Figure.Sample(figure =>
    {
        Near(figure, Volts.FromMillivolts(new Volts(figure).Millivolts).Value);
        Near(figure, Amperes.FromMilliamperes(new Amperes(figure).Milliamperes).Value);
        Near(figure, AmpereHours.FromMilliampereHours(new AmpereHours(figure).MilliampereHours).Value);
        Near(figure, Ohms.FromMilliohms(new Ohms(figure).Milliohms).Value);
        Near(figure, WattHours.FromKilojoules(new WattHours(figure).Kilojoules).Value);
        Near(figure, Celsius.FromFahrenheit(new Celsius(figure).Fahrenheit).Value);
    });

    [Fact]
    public void Ohms_law_holds_both_ways() => Gen.Select(Figure, Gen.Double[0.001, 1000]).Sample((resistance, current) =>
        Near(resistance, (new Ohms(resistance) * new Amperes(current) / new Amperes(current)).Value));

    [Fact]
    public void Like_quantities_add_subtract_scale_and_compare_as_their_figures_do() => Gen.Select(Figure, Figure).Sample((a, b) =>
    {
        Assert.Equal(a + b, (new Volts(a) + new Volts(b)).Value);
        Assert.Equal(a - b, (new Amperes(a) - new Amperes(b)).Value);
        Assert.Equal(a * b, (new AmpereHours(a) * b).Value);
        Assert.Equal(a / b, new WattHours(a) / new WattHours(b));
        Assert.Equal(a - b, new Celsius(a) - new Celsius(b));
        Assert.Equal(a < b, new Ohms(a) < new Ohms(b));
        Assert.Equal(a >= b, new Celsius(a) >= new Celsius(b));
        Assert.Equal(a.CompareTo(b), new Volts(a).CompareTo(new Volts(b)));
    });

    [Theory]
    [InlineData(typeof(Celsius), "op_Addition")]
    [InlineData(typeof(Celsius), "op_Multiply")]
    [InlineData(typeof(Volts), "op_Multiply", typeof(Volts))]
    [InlineData(typeof(Volts), "op_Addition", typeof(Amperes))]
    [InlineData(typeof(AmpereHours), "op_Addition", typeof(WattHours))]
    public void What_makes_no_physical_sense_cannot_be_written(Type unit, string operation, Type? other = null)
    {
        IEnumerable<MethodInfo> operators = unit.GetMethods(BindingFlags.Public | BindingFlags.Static)
            .Where(method => method.Name == operation && (other is null || method.GetParameters().Any(parameter => parameter.ParameterType == other && parameter.Position == 1)));

        if (other == unit)
        {
            operators = operators.Where(method => method.GetParameters().All(parameter => parameter.ParameterType == unit));
        }

        Assert.Empty(operators);
    }

    private static void Near(double expected, double actual) =>
        Assert.True(Math.Abs(expected - actual) <= 1e-12 * Math.Max(1, Math.Abs(expected)) * 100, $"{actual:R} is not {expected:R}.");
}
