namespace PackCare.Cli.Importing;

/// <summary>One file that was asked to be imported.</summary>
/// <param name="Shown">The path as the user would write it.</param>
/// <param name="Path">The full path.</param>
internal sealed record LogFile(string Shown, string Path);
