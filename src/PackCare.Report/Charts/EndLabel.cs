namespace PackCare.Report.Charts;

/// <summary>A label at the end of a line.</summary>
/// <param name="X">Where the line ends.</param>
/// <param name="Y">Where the line ends.</param>
/// <param name="Text">What it is.</param>
/// <param name="Strong">Whether it is the line in question.</param>
internal readonly record struct EndLabel(double X, double Y, string Text, bool Strong);
