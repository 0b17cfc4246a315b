namespace PackCare.Simulation;

/// <summary>Rest voltage of a cell against its state of charge, held as a fine table for speed.</summary>
public sealed class RestCurve
{
    private const int Steps = 4400;
    private const double Lowest = -0.05;
    private const double Highest = 1.05;

    private readonly double[] _volts = new double[Steps + 1];

    private RestCurve(string name, string source, double fullVolts, double storageVolts, Func<double, double> volts)
    {
        Name = name;
        Source = source;
        FullVolts = fullVolts;
        StorageVolts = storageVolts;
        for (var step = 0; step <= Steps; step++)
        {
            _volts[step] = volts(Lowest + ((Highest - Lowest) * step / Steps));
        }
    }

    /// <summary>
    /// Rest voltages of an NMC cell at 0, 10 .. 100 % in volts, digitised from Schmalstieg et al., J. Power Sources 257 (2014)
    /// 325-334, figure 1 (the cell of Ecker et al., J. Power Sources 248 (2014) 839-851).
    /// </summary>
    public static IReadOnlyList<double> NmcTable { get; } = [3.331, 3.491, 3.581, 3.627, 3.655, 3.697, 3.775, 3.869, 3.965, 4.073, 4.162];

    /// <summary>
    /// Lithium polymer to 4.20 V. <see cref="ChenRinconMora"/> ends at 4.103 V, so its polynomial part is stretched by
    /// 1.2324 until full is 4.20 V; the exponential foot stays as published.
    /// </summary>
    public static RestCurve LiPo { get; } = new("LiPo", "Chen and Rincon-Mora 2006, polynomial part stretched to 4.20 V", 4.20, 3.82, soc => StretchedTo(4.20, soc));

    /// <summary>Lithium polymer to 4.35 V: an approximation of ours, the same curve stretched by 1.5913 instead; no source.</summary>
    public static RestCurve LiHv { get; } = new("LiHV", "approximation: Chen and Rincon-Mora 2006, polynomial part stretched to 4.35 V", 4.35, 3.85, soc => StretchedTo(4.35, soc));

    /// <summary>
    /// Lithium-ion of the NMC kind, as tabled (<see cref="NmcTable"/>) and joined by a monotone cubic; 100 % is 4.162 V.
    /// Outside the table it goes on with the end slopes, ten times as steep below empty.
    /// </summary>
    public static RestCurve LiIon { get; } = new("Li-ion", "Schmalstieg et al. 2014 figure 1 / Ecker et al. 2014, digitised", 4.162, 3.80, Nmc);

    /// <summary>What the curve is for.</summary>
    public string Name { get; }

    /// <summary>Where it comes from and what was changed.</summary>
    public string Source { get; }

    /// <summary>Rest voltage at 100 %, in volts.</summary>
    public double FullVolts { get; }

    /// <summary>The storage voltage that the demonstration's stations aim at, in volts.</summary>
    public double StorageVolts { get; }

    /// <summary>
    /// The curve as published: V(s) = -1.031 exp(-35 s) + 3.685 + 0.2156 s - 0.1178 s^2 + 0.3201 s^3, in volts
    /// (Chen and Rincon-Mora, IEEE Trans. Energy Conversion 21(2), 2006, 504-511).
    /// </summary>
    /// <param name="soc">State of charge, 0 to 1.</param>
    public static double ChenRinconMora(double soc) => Foot(soc) + 3.685 + Rise(soc);

    /// <summary>
    /// A curve between the lithium polymer and the lithium-ion one, with 4.20 V at full: cells in the world follow no
    /// published curve exactly, and an estimator that knows one should be tried on others.
    /// </summary>
    /// <param name="share">Share of the lithium-ion shape, 0 to 1; a tenth moves the middle of the curve by about 10 mV.</param>
    public static RestCurve Between(double share) => new(
        "between",
        string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{share:F2} of the way from LiPo to Li-ion, full at 4.20 V"),
        4.20,
        3.82,
        soc => ((1 - share) * StretchedTo(4.20, soc)) + (share * (Nmc(soc) + ((4.20 - NmcTable[^1]) * soc))));

    /// <summary>Rest voltage in volts.</summary>
    /// <param name="soc">State of charge; -0.05 to 1.05, held at these ends.</param>
    public double Volts(double soc)
    {
        var position = (Math.Clamp(soc, Lowest, Highest) - Lowest) * (Steps / (Highest - Lowest));
        var step = Math.Min((int)position, Steps - 1);
        var low = _volts[step];
        return low + ((_volts[step + 1] - low) * (position - step));
    }

    /// <summary>State of charge at which the rest voltage is met, by bisection; held between -0.05 and 1.05.</summary>
    /// <param name="volts">Rest voltage in volts.</param>
    public double StateOfCharge(double volts)
    {
        var (low, high) = (Lowest, Highest);
        for (var halving = 0; halving < 50; halving++)
        {
            var middle = 0.5 * (low + high);
            (low, high) = Volts(middle) < volts ? (middle, high) : (low, middle);
        }

        return 0.5 * (low + high);
    }

    private static double Foot(double soc) => -1.031 * Math.Exp(-35 * soc);

    private static double Rise(double soc) => soc * (0.2156 + (soc * (-0.1178 + (0.3201 * soc))));

    private static double StretchedTo(double fullVolts, double soc) => Foot(soc) + 3.685 + ((fullVolts - 3.685) / Rise(1) * Rise(soc));

    private static double Nmc(double soc)
    {
        var table = NmcTable;
        var last = table.Count - 1;
        var tenths = soc * last;
        if (tenths <= 0)
        {
            return table[0] + (10 * (table[1] - table[0]) * tenths);
        }

        if (tenths >= last)
        {
            return table[last] + ((table[last] - table[last - 1]) * (tenths - last));
        }

        // Fritsch and Carlson 1980: harmonic means of the neighbouring slopes keep the curve rising.
        var i = (int)tenths;
        var t = tenths - i;
        var slope = table[i + 1] - table[i];
        var left = i == 0 ? slope : Harmonic(table[i] - table[i - 1], slope);
        var right = i + 1 == last ? slope : Harmonic(slope, table[i + 2] - table[i + 1]);
        var (t2, t3) = (t * t, t * t * t);
        return (((2 * t3) - (3 * t2) + 1) * table[i]) + ((t3 - (2 * t2) + t) * left) + (((3 * t2) - (2 * t3)) * table[i + 1]) + ((t3 - t2) * right);
    }

    private static double Harmonic(double a, double b) => 2 * a * b / (a + b);
}
