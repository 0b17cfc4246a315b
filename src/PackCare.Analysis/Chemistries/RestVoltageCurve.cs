using MathNet.Numerics.Interpolation;

namespace PackCare.Analysis.Chemistries;

/// <summary>
/// Cell voltage at rest against state of charge. Strictly rising; interpolated by a monotone cubic (PCHIP) through
/// its points and then tabulated, so that both directions are exact inverses of each other.
/// </summary>
internal sealed class RestVoltageCurve
{
    private const int Steps = 2000;

    private readonly double[] _soc = new double[Steps + 1];
    private readonly double[] _volts = new double[Steps + 1];

    /// <summary>Makes a curve through points.</summary>
    /// <param name="points">State of charge (1 is full) and volts, both rising; at least five.</param>
    /// <param name="midError">One standard error of the state of charge that the curve gives half way, as a fraction.</param>
    /// <param name="source">Where the curve comes from and for what it holds.</param>
    public RestVoltageCurve(IReadOnlyList<(double Soc, double Volts)> points, double midError, string source)
    {
        MidError = midError;
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

    /// <summary>One standard error of the state of charge half way up, as a fraction; see <see cref="SpanError"/>.</summary>
    public double MidError { get; }

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
    /// Standard error of the difference of two states of charge for the curve not being this cell's own, as a fraction.
    /// The curve is taken to be right at empty and full and to stray between them like a Brownian bridge, whose increments
    /// over a span d have the variance 4 m^2 d (1 - d) where m is the error half way: none over the whole, most over a half.
    /// </summary>
    public double SpanError(double fromSoc, double toSoc)
    {
        double span = Math.Clamp(Math.Abs(toSoc - fromSoc), 0, 1);
        return 2 * MidError * Math.Sqrt(span * (1 - span));
    }

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
