namespace PackCare.Store;

/// <summary>What a change to a history did.</summary>
public enum ChangeKind
{
    /// <summary>A pack was entered.</summary>
    Pack,

    /// <summary>A file was imported.</summary>
    Import,

    /// <summary>A session was given to a pack.</summary>
    Assignment,

    /// <summary>A spot check was entered.</summary>
    SpotCheck,

    /// <summary>A diary entry was made.</summary>
    Entry,

    /// <summary>A pack was taken out of use.</summary>
    Retirement,
}
