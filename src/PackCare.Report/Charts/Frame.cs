namespace PackCare.Report.Charts;

/// <summary>What a chart is drawn into.</summary>
/// <param name="Size">The size.</param>
/// <param name="Ink">The colours.</param>
/// <param name="Heading">A heading to draw above the data, in pictures that stand alone; else null.</param>
internal sealed record Frame(ChartSize Size, Ink Ink, string? Heading);
