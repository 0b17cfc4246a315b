using PackCare.Core.Packs;
using PackCare.Core.Sessions;

namespace PackCare.Cli.Importing;

/// <summary>What became of one session.</summary>
/// <param name="Id">Its number in the history; null on a dry run.</param>
/// <param name="Match">To which pack it belongs.</param>
/// <param name="Log">As it was read.</param>
/// <param name="Summary">What it shows.</param>
internal sealed record SessionOutcome(long? Id, PackMatch Match, SessionLog Log, SessionSummary Summary)
{
    /// <summary>Its pack, or null while unassigned.</summary>
    public Pack? Pack => (Match as PackMatch.Assigned)?.Pack;
}
