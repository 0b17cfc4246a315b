using MathNet.Numerics.Interpolation;

namespace PackCare.Analysis.Chemistries;

/// <summary>
/// Cell voltage at rest against state of charge. Strictly rising; interpolated by a monotone cubic (PCHIP) through
/// its points and then tabulated, so that both directions are exact inverses of each other.
/// </summary>
internal sealed class RestVoltageCurve
{
    /// <summary>How many parts <see cref="Deviations"/> has.</summary>
    public const int Parts = 7;

    private const int Steps = 2000;

    // Where a curve is called empty differs by about this much of the charge (ours, no source).
    private const double EmptyError = 0.006;

    private readonly double[] _soc = new double[Steps + 1];
    private readonly double[] _volts = new double[Steps + 1];

    /// <summary>Makes a curve through points.</summary>
    /// <param name="points">State of charge (1 is full) and volts, both rising; at least five.</param>
    /// <param name="voltsError">One standard error of the curve's voltage near empty, in volts; see <see cref="Deviations"/>.</param>
    /// <param name="source">Where the curve comes from and for what it holds.</param>
    public RestVoltageCurve(IReadOnlyList<(double Soc, double Volts)> points, double voltsError, string source)
    {
        VoltsError = voltsError;
        Source = source;
        CubicSpline spline = CubicSpline.InterpolatePchip(points.Select(point => point.Soc), points.Select(point => point.Volts));
        double from = points[0].Soc;
        double to = points[^1].Soc;
        for (int i = 0; i <= Steps; i++)
        {
            _soc[i] = from + ((to - from) * i / Steps);
            _volts[i] = spline.Interpolate(_soc[i]);
        }
    }

    /// <summary>One standard error of the curve's voltage near empty, in volts; see <see cref="Deviations"/>.</summary>
    public double VoltsError { get; }

    /// <summary>Where the curve comes from and for what it holds.</summary>
    public string Source { get; }

    /// <summary>Lowest and highest voltage of the curve, in volts.</summary>
    public (double Low, double High) Range => (_volts[0], _volts[^1]);

    /// <summary>Rest voltage in volts; beyond the curve's ends, that of the end.</summary>
    public double VoltsAt(double soc) => Interpolate(_soc, _volts, soc);

    /// <summary>State of charge (1 is full) at a rest voltage; beyond the curve's ends, that of the end.</summary>
    public double SocAt(double volts) => Interpolate(_volts, _soc, volts);

    /// <summary>Slope at a rest voltage, in volts for the whole of the charge. Taken over 2 % of charge either way, about what resolution allows.</summary>
    public double SlopeAt(double volts)
    {
        double soc = SocAt(volts);
        double low = Math.Max(soc - 0.02, _soc[0]);
        double high = Math.Min(soc + 0.02, _soc[^1]);
        return (VoltsAt(high) - VoltsAt(low)) / (high - low);
    }

    /// <summary>
    /// How far another cell's curve may stray from this one, as the parts of a sum with independent coefficients of mean 0 and
    /// variance 1: what each part adds to the state of charge that the curve gives at a level, as a fraction. In volts the curve strays from
    /// full, where the charger's end voltage pins it, downwards like a Brownian motion, whose Karhunen-Loeve series
    /// sqrt 2 sin((k - 1/2) pi u) / ((k - 1/2) pi), u = 1 - s, is cut after six parts, since curves bend smoothly; over the slope
    /// this is a state of charge, much where the curve is flat, little where it is steep. The last part is what is meant by empty.
    /// </summary>
    public double[] Deviations(double soc)
    {
        double at = Math.Clamp(soc, 0, 1);
        double low = Math.Max(at - 0.02, _soc[0]);
        double high = Math.Min(at + 0.02, _soc[^1]);
        double slope = (VoltsAt(high) - VoltsAt(low)) / (high - low);
        var parts = new double[Parts];
        for (int k = 0; k < Parts - 1; k++)
        {
            double wave = (k + 0.5) * Math.PI;
            parts[k] = VoltsError / slope * Math.Sqrt(2) * Math.Sin(wave * (1 - at)) / wave;
        }

        parts[^1] = EmptyError * (1 - at);
        return parts;
    }

    /// <summary>Standard error of the difference of two states of charge for the curve not being this cell's own, as a fraction.</summary>
    public double SpanError(double fromSoc, double toSoc) =>
        Math.Sqrt(Deviations(fromSoc).Zip(Deviations(toSoc), (from, to) => (to - from) * (to - from)).Sum());

    private static double Interpolate(double[] from, double[] to, double at)
    {
        int found = Array.BinarySearch(from, at);
        if (found >= 0)
        {
            return to[found];
        }

        int above = ~found;
        if (above == 0 || above > Steps)
        {
            return above == 0 ? to[0] : to[^1];
        }

        double part = (at - from[above - 1]) / (from[above] - from[above - 1]);
        return to[above - 1] + (part * (to[above] - to[above - 1]));
    }
}
