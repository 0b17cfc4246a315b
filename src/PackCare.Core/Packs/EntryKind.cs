namespace PackCare.Core.Packs;

/// <summary>What an owner writes down about a pack besides measurements. Stored by name.</summary>
public enum EntryKind
{
    /// <summary>The pack was used in its vehicle.</summary>
    Run,

    /// <summary>The pack was brought to storage level.</summary>
    Storage,

    /// <summary>The pack was looked at.</summary>
    Inspection,

    /// <summary>Anything else worth keeping.</summary>
    Note,
}
