using PackCare.Report.Look;
using ScottPlot;

namespace PackCare.Report.Charts;

/// <summary>
/// Hands out the colours of one drawing. For a PNG they are the colours themselves. For an SVG each is a number
/// that stands for a tone and a dash pattern, so that the finished drawing can follow the light or dark page and
/// keep its dashes as dashes instead of as hundreds of little shapes.
/// </summary>
/// <param name="coded">Whether colours are such numbers.</param>
internal sealed class Ink(bool coded)
{
    private readonly List<(Tone Tone, IReadOnlyList<float> Dash)> _codes = [];

    public bool Coded => coded;

    /// <summary>The colour to draw in.</summary>
    public Color Of(Tone tone, IReadOnlyList<float>? dash = null)
    {
        if (!coded)
        {
            return Color.FromHex("#" + tone.Light);
        }

        int code = _codes.FindIndex(known => known.Tone == tone && known.Dash.SequenceEqual(dash ?? []));
        if (code < 0)
        {
            code = _codes.Count;
            _codes.Add((tone, dash ?? []));
        }

        return new Color(1, (byte)(code >> 8), (byte)(code & 0xFF));
    }

    /// <summary>What a colour in the finished drawing stands for; null for one that was not handed out.</summary>
    /// <param name="colour">As the drawing has it, for instance #010003.</param>
    public (Tone Tone, IReadOnlyList<float> Dash)? Decode(string colour)
    {
        if (colour is not ['#', '0', '1', _, _, _, _] ||
            !int.TryParse(colour.AsSpan(3), System.Globalization.NumberStyles.AllowHexSpecifier, System.Globalization.CultureInfo.InvariantCulture, out int code))
        {
            return null;
        }

        return code < _codes.Count ? _codes[code] : null;
    }
}
