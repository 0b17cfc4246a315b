namespace PackCare.Cli.Importing;

/// <summary>One file that was asked to be imported.</summary>
/// <param name="Shown">The path as the user would write it.</param>
/// <param name="Path">The full path.</param>
internal sealed record LogFile(string Shown, string Path)
{
    /// <summary>The file itself, also where the path is a link to it.</summary>
    /// <exception cref="IOException">Links lead round in a circle.</exception>
    public FileInfo Info() => new(File.ResolveLinkTarget(Path, returnFinalTarget: true)?.FullName ?? Path);
}
