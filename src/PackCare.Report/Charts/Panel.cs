namespace PackCare.Report.Charts;

/// <summary>One drawing of a chart; charts that share a horizontal axis have several.</summary>
/// <param name="Heading">What this panel shows, or null where the chart has only one.</param>
/// <param name="Draw">Draws it.</param>
internal sealed record Panel(string? Heading, Func<Frame, Sheet> Draw);
