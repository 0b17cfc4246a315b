namespace PackCare.Store;

/// <summary>What may be wrong with a history.</summary>
public enum ComplaintKind
{
    /// <summary>SQLite finds its own pages or indexes out of order. Repair rebuilds the file from every row that can be read.</summary>
    Pages,

    /// <summary>A row refers to a row that is not there. Repair puts a stand-in there, or removes what was merely derived.</summary>
    Reference,

    /// <summary>A block of samples is not what was stored, or is missing. Repair sets it aside and marks its readings as missing.</summary>
    Block,

    /// <summary>The times of a session are lost, without which its readings mean nothing. Not repairable; import the log again.</summary>
    Time,

    /// <summary>A session has no summary, or not the one of its samples. Repair is to derive it again.</summary>
    Summary,

    /// <summary>A column holds what no version of the program wrote. Not repairable by the program.</summary>
    Content,
}
