using System.Globalization;
using System.Text;
using PackCare.Report.Look;
using ScottPlot;

namespace PackCare.Report.Charts;

/// <summary>
/// Hands out the colours of one drawing. For a PNG they are the colours themselves. For an SVG each is a number that
/// stands for a tone, so that the finished drawing can follow the light or dark page; and what is drawn by our own
/// hand is written as elements at once, to be put in its place when the drawing is finished.
/// </summary>
/// <param name="coded">Whether it is for an SVG.</param>
internal sealed class Ink(bool coded)
{
    /// <summary>The colour that marks where <see cref="Layers"/> belong.</summary>
    public static readonly Color Place = new(2, 0, 0);

    /// <summary>The same as a finished drawing has it.</summary>
    public const string PlaceText = "#020000";

    /// <summary>Whether it is for an SVG.</summary>
    public bool Coded => coded;

    /// <summary>Elements of an SVG drawn by our own hand, in order.</summary>
    public StringBuilder Layers { get; } = new();

    /// <summary>The colour to draw in.</summary>
    public Color Of(Tone tone) => coded ? new Color(1, 0, (byte)Index(tone)) : Color.FromHex("#" + tone.Light);

    /// <summary>The tone that a colour in the drawing stands for; null for one that was not handed out.</summary>
    /// <param name="colour">As the drawing has it, for instance #010003.</param>
    public static Tone? Decode(string colour) =>
        colour is ['#', '0', '1', '0', '0', _, _] &&
        int.TryParse(colour.AsSpan(5), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out int index) && index < Tones.All.Count
            ? Tones.All[index]
            : null;

    private static int Index(Tone tone)
    {
        for (int index = 0; index < Tones.All.Count; index++)
        {
            if (Tones.All[index] == tone)
            {
                return index;
            }
        }

        throw new ArgumentException($"{tone.Name} is not among the tones.", nameof(tone));
    }
}
