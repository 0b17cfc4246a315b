using PackCare.Core.Units;

namespace PackCare.Analysis.FullCharge;

/// <summary>Published expectations of what a cell loses by lying, and how that depends on its level.</summary>
internal static class CalendarLoss
{
    private const double DaysPerYear = 365;

    // Battery University BU-808 "How to Prolong Lithium-based Batteries", table 3: capacity recoverable after a year, in percent,
    // stored at 40 % and at 100 %. The row of 25 C was checked, the others are from memory.
    private static readonly (double Celsius, double At40, double At100)[] Table3 = [(0, 98, 94), (25, 96, 80), (40, 85, 65), (60, 75, 60)];

    /// <summary>
    /// Rate factor of Schmalstieg et al. 2014 (J. Power Sources 257, 325-334): Q_loss = alpha t^0.75 with
    /// alpha = (7.543 V - 23.75) 1e6 exp(-6976 / T), t in days, T in kelvins, V the rest voltage; a fraction of the capacity.
    /// Measured on an NMC/graphite 18650 between 35 and 50 C and from 3.3 to 4.2 V; elsewhere it is carried on.
    /// </summary>
    public static double SchmalstiegAlpha(double volts, double celsius) =>
        Math.Max(0, (7.543 * volts) - 23.75) * 1e6 * Math.Exp(-6976 / new Celsius(celsius).Kelvins);

    /// <summary>
    /// Rate factor of resistance growth of the same source: R = 1 + beta t^0.75 with
    /// beta = (5.270 V - 16.32) 1e5 exp(-5986 / T).
    /// </summary>
    public static double SchmalstiegBeta(double volts, double celsius) =>
        Math.Max(0, (5.270 * volts) - 16.32) * 1e5 * Math.Exp(-5986 / new Celsius(celsius).Kelvins);

    /// <summary>The loss after so many more days at a rate factor, by virtual time: the loss so far is taken as if it had come at this rate.</summary>
    public static double Step(double lossSoFar, double alpha, double days)
    {
        if (alpha <= 0 || days <= 0)
        {
            return lossSoFar;
        }

        double virtualDays = Math.Pow(lossSoFar / alpha, 4.0 / 3);
        return alpha * Math.Pow(virtualDays + days, 0.75);
    }

    /// <summary>Extra loss of a year at full charge against 40 %, as a fraction, by BU-808 table 3; between its rows by straight lines, beyond them the nearest.</summary>
    public static double Table3ExtraPerYear(double celsius)
    {
        double at = Math.Clamp(celsius, Table3[0].Celsius, Table3[^1].Celsius);
        int above = Math.Max(1, Array.FindIndex(Table3, row => row.Celsius >= at));
        var (low, high) = (Table3[above - 1], Table3[above]);
        double part = (at - low.Celsius) / (high.Celsius - low.Celsius);
        double lowExtra = low.At40 - low.At100;
        double highExtra = high.At40 - high.At100;
        return (lowExtra + (part * (highExtra - lowExtra))) / 100;
    }

    /// <summary>Extra loss by BU-808 for so many days at full charge, as a fraction, counting each day alike.</summary>
    public static double Table3Extra(double days, double celsius) => Table3ExtraPerYear(celsius) * days / DaysPerYear;
}
