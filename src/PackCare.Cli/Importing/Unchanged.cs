namespace PackCare.Cli.Importing;

/// <summary>Tells whether an open file is still what it was: its bytes are read more than once, and have to be the same each time.</summary>
internal sealed class Unchanged(FileStream file)
{
    private readonly (long Length, DateTime Written) _before = State(file);

    /// <summary>Whether length and time of writing are as they were.</summary>
    public bool Still() => State(file) == _before;

    private static (long Length, DateTime Written) State(FileStream file) =>
        (RandomAccess.GetLength(file.SafeFileHandle), File.GetLastWriteTimeUtc(file.SafeFileHandle));
}
