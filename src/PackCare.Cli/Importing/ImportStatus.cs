namespace PackCare.Cli.Importing;

/// <summary>What became of one file.</summary>
internal enum ImportStatus
{
    /// <summary>Read, stored (or, on a dry run, fit to be) and every session assigned.</summary>
    Imported,

    /// <summary>The same bytes were stored before; nothing changed.</summary>
    AlreadyImported,

    /// <summary>Nothing of it is stored.</summary>
    Refused,

    /// <summary>Stored, but at least one session belongs to no pack yet.</summary>
    Unassigned,
}
