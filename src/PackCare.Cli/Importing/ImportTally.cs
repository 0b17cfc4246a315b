namespace PackCare.Cli.Importing;

/// <summary>Counts what became of the files of one import.</summary>
internal sealed class ImportTally
{
    /// <summary>Files taken in, unassigned ones among them.</summary>
    public int Imported { get; private set; }

    /// <summary>Files that were there already.</summary>
    public int AlreadyImported { get; private set; }

    /// <summary>Files of which nothing is stored.</summary>
    public int Refused { get; private set; }

    /// <summary>Sessions taken in.</summary>
    public int Sessions { get; private set; }

    /// <summary>Sessions taken in that belong to no pack yet.</summary>
    public int Unassigned { get; private set; }

    /// <summary>Samples taken in.</summary>
    public long Samples { get; private set; }

    /// <summary>Counts one file.</summary>
    public void Count(FileOutcome outcome)
    {
        // A dry run reads again what was imported before, so that a file may count for both.
        Refused += outcome.Status == ImportStatus.Refused ? 1 : 0;
        AlreadyImported += outcome.Status == ImportStatus.AlreadyImported ? 1 : 0;
        Imported += outcome.Sessions.Count > 0 ? 1 : 0;
        Sessions += outcome.Sessions.Count;
        Unassigned += outcome.Sessions.Count(session => session.Pack is null);
        Samples += outcome.Sessions.Sum(session => (long)session.Log.Samples.Count);
    }
}
