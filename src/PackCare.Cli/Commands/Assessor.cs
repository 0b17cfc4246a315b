using PackCare.Analysis;
using PackCare.Analysis.Assessments;
using PackCare.Core.Packs;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Brings history and analysis together.</summary>
internal static class Assessor
{
    /// <summary>Assesses one pack.</summary>
    public static PackAssessment Assess(History history, Pack pack, DateTimeOffset now) => PackAnalyzer.Analyze(history.Load(pack), now);

    /// <summary>Assesses every pack, in order of label.</summary>
    public static IReadOnlyList<PackAssessment> AssessAll(History history, DateTimeOffset now) =>
        [.. history.LoadAll().AsParallel().AsOrdered().Select(one => PackAnalyzer.Analyze(one, now))];
}
