namespace PackCare.Analysis.Chemistries;

/// <summary>Rest-voltage curves as their publications give them.</summary>
internal static class PublishedCurves
{
    /// <summary>
    /// Open-circuit voltage of a polymer lithium-ion cell in volts, by M. Chen and G. A. Rincon-Mora, "Accurate electrical
    /// battery model capable of predicting runtime and I-V performance", IEEE Trans. Energy Conversion 21 (2006) 504-511, eq. 2.
    /// Some copies of it carry the quadratic term with the wrong sign and then give 4.34 V at full charge.
    /// </summary>
    /// <param name="soc">State of charge by the paper's own scale, on which 1 is a cell charged to about 4.1 V.</param>
    public static double ChenRinconMora(double soc) =>
        (-1.031 * Math.Exp(-35 * soc)) + 3.685 + (0.2156 * soc) - (0.1178 * soc * soc) + (0.3201 * soc * soc * soc);

    /// <summary>
    /// Rest voltage of an NMC/graphite 18650 cell, digitised from J. Schmalstieg et al., J. Power Sources 257 (2014) 325-334, fig. 1
    /// (the cell of M. Ecker et al., J. Power Sources 248 (2014) 839-851); state of charge 0 to 1 by 0.1.
    /// </summary>
    public static IReadOnlyList<double> NmcVolts { get; } =
        [3.331, 3.491, 3.581, 3.627, 3.655, 3.697, 3.775, 3.869, 3.965, 4.073, 4.162];
}
