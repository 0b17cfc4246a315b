using PackCare.Analysis;
using PackCare.Core.Packs;
using PackCare.Core.Sessions;
using PackCare.Store;

namespace PackCare.Cli.Importing;

/// <summary>Sessions that belong to no pack yet.</summary>
/// <param name="history">The history that holds them.</param>
internal sealed class WaitingSessions(History history)
{
    /// <summary>Each with what it could belong to.</summary>
    public IReadOnlyList<(UnassignedSession Waiting, PackMatch Match)> List()
    {
        IReadOnlyList<Pack> packs = history.Packs();
        return [.. history.Unassigned().Select(waiting => (waiting, Match(packs, waiting)))];
    }

    /// <summary>Assigns those whose log or file name names the pack.</summary>
    /// <returns>How many.</returns>
    public int AssignMatching(Pack pack)
    {
        long[] matching = [.. List().Where(one => one.Match is PackMatch.Assigned match && match.Pack.Id == pack.Id).Select(one => one.Waiting.Session.Id)];
        return Assign(matching, pack);
    }

    /// <summary>Assigns those of the given sessions that are still waiting and fit the pack's cell count.</summary>
    /// <returns>How many.</returns>
    public int Assign(IReadOnlyCollection<long> sessionIds, Pack pack)
    {
        int assigned = 0;
        foreach (UnassignedSession waiting in history.Unassigned())
        {
            if (sessionIds.Contains(waiting.Session.Id) && Fits(waiting.Session, pack))
            {
                history.Assign(waiting.Session.Id, pack.Id, SessionSummarizer.Summarize(history.LoadSamples(waiting.Session.Id), pack.Details.Chemistry));
                assigned++;
            }
        }

        return assigned;
    }

    /// <summary>Whether a session shows as many cells as the pack has, or none at all.</summary>
    public static bool Fits(SessionRecord session, Pack pack) =>
        session.Summary.Cells.Count == 0 || session.Summary.Cells.Count == pack.Details.Cells;

    private static PackMatch Match(IReadOnlyList<Pack> packs, UnassignedSession waiting) => PackMatcher.Match(
        packs,
        waiting.PackHint,
        waiting.Session.FileName,
        waiting.Session.Summary.Cells.Count,
        Importer.ChargeMoved(waiting.Session.Summary));
}
