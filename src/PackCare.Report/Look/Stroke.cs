namespace PackCare.Report.Look;

/// <summary>How a line is drawn.</summary>
/// <param name="Tone">Its colour.</param>
/// <param name="Width">Its width in pixels.</param>
/// <param name="Dash">Lengths drawn and left out in turn, in pixels; empty for a continuous line.</param>
internal sealed record Stroke(Tone Tone, double Width, IReadOnlyList<float> Dash)
{
    public Stroke(Tone tone, double width)
        : this(tone, width, [])
    {
    }
}
