using PackCare.Core.Packs;
using PackCare.Core.Samples;
using PackCare.Core.Sessions;

namespace PackCare.Analysis;

/// <summary>Derives the summary of a session from its samples.</summary>
public static class SessionSummarizer
{
    /// <summary>Version of the method; raised whenever the same samples would give another summary.</summary>
    public const int MethodVersion = 1;

    /// <summary>Summarises a session.</summary>
    /// <param name="samples">The samples.</param>
    /// <param name="chemistry">The pack's chemistry; <see cref="Chemistry.LiPo"/> where the pack is not known yet.</param>
    public static SessionSummary Summarize(SampleSeries samples, Chemistry chemistry) => throw new NotImplementedException();
}
