namespace PackCare.Simulation;

/// <summary>
/// Ageing while stored, after Schmalstieg et al., J. Power Sources 257 (2014) 325-334: loss = rate(V, T) t^0.75 with t in
/// days. Measured on one NMC cell; used here for every chemistry for want of a published one.
/// </summary>
public static class Ageing
{
    private const double Exponent = 0.75;

    /// <summary>Rate of capacity loss, as a fraction per day^0.75, not negative.</summary>
    /// <param name="volts">Rest voltage of the cell in volts.</param>
    /// <param name="celsius">Temperature in degrees Celsius.</param>
    public static double CapacityRate(double volts, double celsius) =>
        Math.Max(0, (7.543 * volts) - 23.75) * 1e6 * Math.Exp(-6976 / (celsius + 273.15));

    /// <summary>Rate of resistance growth, as a fraction per day^0.75, not negative.</summary>
    /// <param name="volts">Rest voltage of the cell in volts.</param>
    /// <param name="celsius">Temperature in degrees Celsius.</param>
    public static double ResistanceRate(double volts, double celsius) =>
        Math.Max(0, (5.270 * volts) - 16.32) * 1e5 * Math.Exp(-5986 / (celsius + 273.15));

    /// <summary>
    /// Carries a loss on under a rate: the days that would have given the loss so far at this rate, plus the days at hand.
    /// Many short steps at one rate equal a single long one.
    /// </summary>
    /// <param name="loss">Loss so far, as a fraction, not negative.</param>
    /// <param name="rate">Rate as a fraction per day^0.75.</param>
    /// <param name="days">Days at that rate, not negative.</param>
    public static double Advance(double loss, double rate, double days) =>
        rate <= 0 ? loss : rate * Math.Pow(Math.Pow(loss / rate, 1 / Exponent) + days, Exponent);
}
