using PackCare.Core.Units;

namespace PackCare.Analysis.Resistance;

/// <summary>
/// Brings a cell's resistance to a reference temperature by Arrhenius' law, R(T) = R(Tref) exp(Ea/Rgas (1/T - 1/Tref)).
/// </summary>
internal static class TemperatureCorrection
{
    /// <summary>The temperature to which resistances are brought, in degrees Celsius.</summary>
    public const double ReferenceCelsius = 25;

    /// <summary>Molar gas constant in J/(mol K), exact since the SI of 2019.</summary>
    public const double GasConstant = 8.31446261815324;

    /// <summary>Activation energy in J/mol: the middle of the spread that 10 s resistances of public cells show.</summary>
    public const double ActivationEnergy = 15_000;

    /// <summary>Half the spread of the activation energy, 10 to 20 kJ/mol, in J/mol.</summary>
    public const double ActivationHalfSpread = 5_000;

    /// <summary>Beyond this distance from the reference no correction is made, in kelvins.</summary>
    public const double LargestDifference = 20;

    /// <summary>By what a resistance at a temperature is to be multiplied; null too far from the reference.</summary>
    /// <returns>The factor and its relative standard error (the spread taken as evenly likely, half / sqrt 3).</returns>
    public static (double Factor, double RelativeError)? To25(double celsius)
    {
        if (!(Math.Abs(celsius - ReferenceCelsius) <= LargestDifference))
        {
            return null;
        }

        double inverse = (1 / new Celsius(celsius).Kelvins) - (1 / new Celsius(ReferenceCelsius).Kelvins);
        double factor = Math.Exp(-ActivationEnergy / GasConstant * inverse);
        return (factor, Math.Abs(inverse) / GasConstant * ActivationHalfSpread / Math.Sqrt(3));
    }

    /// <summary>Ratio of the resistances at two temperatures by Arrhenius' law, the first over the second.</summary>
    public static double Ratio(double firstCelsius, double secondCelsius, double activationEnergy) =>
        Math.Exp(activationEnergy / GasConstant * ((1 / new Celsius(firstCelsius).Kelvins) - (1 / new Celsius(secondCelsius).Kelvins)));
}
