namespace PackCare.Core.Sessions;

/// <summary>What a session mostly did to the pack; where no current was logged, by where its voltage went. Stored by name.</summary>
public enum SessionKind
{
    /// <summary>Current flowed in, to a level above the storage window.</summary>
    Charge,

    /// <summary>Current flowed out, to a level below the storage window.</summary>
    Discharge,

    /// <summary>Current flowed either way and the session ended inside the storage window.</summary>
    Storage,

    /// <summary>No current to speak of flowed.</summary>
    Rest,

    /// <summary>Current flowed both ways to a comparable amount.</summary>
    Mixed,
}
