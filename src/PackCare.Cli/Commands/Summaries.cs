using PackCare.Analysis;
using PackCare.Core.Packs;
using PackCare.Core.Sessions;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Derives summaries from samples.</summary>
internal static class Summaries
{
    /// <summary>Derives those of the given sessions again, all in one transaction.</summary>
    /// <returns>How many.</returns>
    public static int DeriveAgain(History history, IReadOnlyList<long> sessionIds)
    {
        Dictionary<long, Chemistry> chemistries = history.Packs().ToDictionary(pack => pack.Id, pack => pack.Details.Chemistry);
        List<(long SessionId, SessionSummary Summary)> summaries = [.. sessionIds.Select(id =>
        {
            Chemistry chemistry = history.FindSession(id)?.PackId is { } pack ? chemistries[pack] : Chemistry.LiPo;
            return (id, SessionSummarizer.Summarize(history.LoadSamples(id), chemistry));
        })];
        history.ReplaceSummaries(summaries);
        return summaries.Count;
    }
}
