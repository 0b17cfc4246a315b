using PackCare.Core.Packs;

namespace PackCare.Analysis.Chemistries;

/// <summary>What the analysis needs to know of a chemistry. All voltages are a cell's, in volts.</summary>
internal sealed record ChemistryProfile(
    Chemistry Chemistry,
    double NominalVolts,
    double FullChargeVolts,
    double FullThresholdVolts,
    double StorageLowVolts,
    double StorageHighVolts,
    double EmptyUnderLoadVolts,
    Lazy<RestVoltageCurve> LazyCurve)
{
    private const double StorageAimFraction = 0.5;

    /// <summary>Rest voltage against state of charge; worked out when first asked for.</summary>
    public RestVoltageCurve Curve => LazyCurve.Value;

    /// <summary>A resting voltage in the middle of the storage window.</summary>
    public double StorageVolts => StorageLowVolts + (StorageAimFraction * (StorageHighVolts - StorageLowVolts));

    /// <summary>The profile of a chemistry.</summary>
    public static ChemistryProfile Of(Chemistry chemistry) => chemistry switch
    {
        Chemistry.LiHv => LiHv,
        Chemistry.LiIon => LiIon,
        Chemistry.LiFePo4 => LiFePo4,
        _ => LiPo,
    };

    // Nominal voltages and charge voltages as printed by makers on packs and cells of each kind (common practice, no source).
    // Carrying the published LiPo curve to 4.20 V along the charge or along the voltage gives curves that differ by 11 mV half way, 3 % of charge.
    // Cells of unlike makers differ as well; half way the error of each curve is about 0.7 of the one given here (ours, no source).
    private static ChemistryProfile LiPo { get; } = new(
        Chemistry.LiPo, 3.7, 4.20, 4.10, 3.75, 3.90, 3.45, new(() => Polymer(4.20, 0.0115, "Chen and Rincon-Mora 2006, eq. 2, carried on by its own polynomial from 4.10 V to 4.20 V and scaled so that 100 % is 4.20 V at rest")));

    private static ChemistryProfile LiHv { get; } = new(
        Chemistry.LiHv, 3.8, 4.35, 4.25, 3.80, 3.95, 3.45, new(() => Polymer(4.35, 0.025, "approximate: the polynomial of Chen and Rincon-Mora 2006 carried on to 4.35 V, well beyond its cell; no published basis")));

    private static ChemistryProfile LiIon { get; } = new(
        Chemistry.LiIon, 3.6, 4.20, 4.10, 3.55, 3.85, 3.10, new(Nmc));

    private static ChemistryProfile LiFePo4 { get; } = new(
        Chemistry.LiFePo4, 3.2, 3.60, 3.40, 3.20, 3.33, 2.80, new(Phosphate));

    private static RestVoltageCurve Polymer(double fullVolts, double voltsError, string source)
    {
        double full = MathNet.Numerics.RootFinding.Brent.FindRoot(soc => PublishedCurves.ChenRinconMora(soc) - fullVolts, 0.9, 1.5, 1e-10);
        // Close together near empty, where the exponential bends.
        (double Soc, double Volts)[] points = [.. Enumerable.Range(0, 201)
            .Select(i => Math.Pow(i / 200.0, 2))
            .Select(soc => (soc, PublishedCurves.ChenRinconMora(soc * full)))];
        return new RestVoltageCurve(points, voltsError, source);
    }

    private static RestVoltageCurve Nmc()
    {
        // Beyond the table: down to a deeply empty cell, and up by the table's last slope to 4.20 V, so that no reading falls off the curve's end.
        List<(double Soc, double Volts)> points = [(-0.05, 2.80)];
        points.AddRange(PublishedCurves.NmcVolts.Select((volts, i) => (i / 10.0, volts)));
        points.Add((1.0427, 4.20));
        return new RestVoltageCurve(points, 0.020, "Schmalstieg et al. 2014, fig. 1 (NMC/graphite 18650), digitised; ends carried on by us to 2.80 V and 4.20 V");
    }

    // Approximate mid curve of LiFePO4/graphite cells (common practice, no source): flat to within a few tens of millivolts over most of its charge.
    private static RestVoltageCurve Phosphate() => new(
        [(0, 2.60), (0.05, 3.05), (0.1, 3.19), (0.2, 3.24), (0.3, 3.27), (0.4, 3.288), (0.5, 3.296), (0.6, 3.302), (0.7, 3.325), (0.8, 3.332), (0.9, 3.336), (0.97, 3.345), (1, 3.40), (1.01, 3.60)],
        0.010,
        "approximate LiFePO4/graphite curve; common practice, no source");
}
