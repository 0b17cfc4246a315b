namespace PackCare.Store;

/// <summary>Why a history cannot be used.</summary>
public enum HistoryFault
{
    /// <summary>There is no such file and it was not to be made.</summary>
    Missing,

    /// <summary>The file is something else.</summary>
    NotAHistory,

    /// <summary>A later version of the program made it.</summary>
    Newer,

    /// <summary>Another program holds it.</summary>
    Locked,

    /// <summary>The folder or file cannot be written.</summary>
    NotWritable,

    /// <summary>The disk is full.</summary>
    DiskFull,

    /// <summary>The file is damaged.</summary>
    Damaged,

    /// <summary>The disk or the system reported an error while the file was in use.</summary>
    Failed,

    /// <summary>What was asked for does not fit what is on record, for instance a pack that is no longer there.</summary>
    Conflict,
}
