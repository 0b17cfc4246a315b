namespace PackCare.Cli.Output;

/// <summary>A cell of a table.</summary>
/// <param name="Text">Its text, on one line.</param>
/// <param name="Look">How it looks.</param>
internal sealed record TextCell(string Text, Look Look);
