namespace PackCare.Report.Charts;

/// <summary>The size a chart is drawn for. Each chart is drawn once for a desk or a sheet of paper and once for a phone, so that its text is readable on both.</summary>
/// <param name="Name">Short name, a CSS identifier.</param>
/// <param name="Width">Width in pixels.</param>
/// <param name="FontSize">Size of its text in pixels.</param>
/// <param name="Left">Room left of the data, in pixels, for the labels of the vertical axis.</param>
internal sealed record ChartSize(string Name, int Width, float FontSize, float Left)
{
    public static readonly ChartSize Wide = new("wide", 580, 12.5f, 64);

    public static readonly ChartSize Narrow = new("narrow", 330, 12, 61);

    /// <summary>Both.</summary>
    public static readonly IReadOnlyList<ChartSize> All = [Wide, Narrow];

    /// <summary>Whether it is the one for phones.</summary>
    public bool IsNarrow => this == Narrow;
}
