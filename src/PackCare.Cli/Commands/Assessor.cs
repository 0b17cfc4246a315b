using PackCare.Analysis;
using PackCare.Analysis.Assessments;
using PackCare.Analysis.Limits;
using PackCare.Core.Packs;

namespace PackCare.Cli.Commands;

/// <summary>Judges packs by the limits in force at a moment.</summary>
/// <param name="limits">The user's own limits.</param>
/// <param name="now">The moment.</param>
internal sealed class Assessor(LimitSettings limits, DateTimeOffset now)
{
    /// <summary>The moment for which it judges.</summary>
    public DateTimeOffset Now => now;

    /// <summary>Judges one pack.</summary>
    public PackAssessment Assess(PackHistory history) =>
        PackAnalyzer.Analyze(history, now, limits.For(history.Pack.Label, history.Pack.Details.Chemistry));

    /// <summary>Judges packs, in the order given.</summary>
    public IReadOnlyList<PackAssessment> Assess(IReadOnlyList<PackHistory> histories) => [.. histories.AsParallel().AsOrdered().Select(Assess)];
}
