namespace PackCare.Report.Look;

/// <summary>
/// The colours of the report. Those that tell things apart are of the colour-blind-safe set of Okabe M., Ito K. (2008),
/// "Color Universal Design: how to make figures and presentations that are friendly to colorblind people"
/// (J*Fly data depository); orange and yellow of that set are left out on white, where they have too little contrast.
/// </summary>
internal static class Tones
{
    public static readonly Tone Paper = new("paper", "F7F6F2", "14171A");
    public static readonly Tone Card = new("card", "FFFFFF", "1B1F23");
    public static readonly Tone Ink = new("ink", "1B1F24", "ECEDEA");
    public static readonly Tone Muted = new("muted", "59616A", "A6AEB6");
    public static readonly Tone Rule = new("rule", "D8D7D0", "363C42");
    public static readonly Tone Grid = new("grid", "E6E5DF", "2B3136");
    public static readonly Tone Within = new("within", "EEF1EC", "23292A");

    public static readonly Tone Blue = new("blue", "0072B2", "56B4E9");
    public static readonly Tone Vermillion = new("vermillion", "D55E00", "E69F00");
    public static readonly Tone Green = new("green", "009E73", "009E73");
    public static readonly Tone Purple = new("purple", "CC79A7", "CC79A7");
    public static readonly Tone Black = new("black", "000000", "FFFFFF");

    /// <summary>The tones of cells, used in turn.</summary>
    public static readonly IReadOnlyList<Tone> Cells = [Blue, Vermillion, Green, Purple, Black];

    /// <summary>All tones; their light values are all different, so that a drawn colour names its tone.</summary>
    public static readonly IReadOnlyList<Tone> All =
        [Paper, Card, Ink, Muted, Rule, Grid, Within, Blue, Vermillion, Green, Purple, Black];
}
