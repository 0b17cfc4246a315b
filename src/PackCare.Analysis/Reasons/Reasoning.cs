using PackCare.Analysis.Assessments;
using PackCare.Analysis.Reasons;
using PackCare.Analysis.Wording;

namespace PackCare.Analysis;

/// <summary>The reasoning behind a standing, as plain sentences. Pure: the same assessment gives the same sentences.</summary>
public static class Reasoning
{
    /// <summary>
    /// Explains an assessment, evidence by evidence: the standing and what set it, each finding with value, interval, limit,
    /// margin and the sessions it rests on, what the cells tell, what is not known and which reading would settle it.
    /// </summary>
    /// <param name="assessment">The assessment.</param>
    /// <returns>One paragraph an element, in reading order; plain text without line breaks, never empty.</returns>
    public static IReadOnlyList<string> Explain(PackAssessment assessment) =>
    [
        .. Verdict(assessment),
        .. assessment.Findings.Select(FindingReason.Of),
        .. ImbalanceReasons.Of(assessment.Imbalance),
        .. WearReasons.Of(assessment),
        .. OpenQuestions.Of(assessment),
        .. Disposal(assessment),
    ];

    private static IEnumerable<string> Verdict(PackAssessment assessment)
    {
        string because = assessment.Standing switch
        {
            Standing.Sound => "nothing on record speaks against it. That is not to say that it is free of danger: a log does not show every fault.",
            Standing.Unknown => "too little is on record to tell.",
            _ => $"of its gravest {(assessment.Findings.Count(finding => finding.Level == assessment.Findings[0].Level) == 1 ? "finding" : "findings")}, {string.Join(", ", assessment.Findings.Where(finding => finding.Level == assessment.Findings[0].Level).Select(finding => FindingReason.Name(finding.Code)).Distinct())}.",
        };
        yield return $"{assessment.Pack.Label} stands at {assessment.Standing.ToString().ToLowerInvariant()} on {Say.Day(assessment.Assessed)} because {because}";
        UsageAssessment usage = assessment.Usage;
        if (usage is { First: { } first, Last: { } last })
        {
            string throughput = usage.ThroughputAh is { } ah ? $", {Say.Number(ah, "0.0")} Ah put in{(usage.EquivalentFullCycles is { } cycles ? $" ({(usage.EstimatedCycles is { } estimate ? $"{Say.Interval(estimate, "0.0", "full cycles")} of the capacity measured in {Say.Count(estimate.Count, "session", "sessions")}" : $"{Say.Number(cycles, "0.0")} full cycles")})" : "")}" : "";
            yield return $"This rests on {Say.Count(usage.Sessions, "logged session", "logged sessions")} and what was entered between {Say.Day(first)} and {Say.Day(last)}{throughput}.";
        }
    }

    private static IEnumerable<string> Disposal(PackAssessment assessment)
    {
        if (assessment.Pack.Retirement is { } retirement)
        {
            yield return $"It was retired on {Say.Day(retirement.At)}: {retirement.Reason.TrimEnd('.')}. It stays in the history and out of the due list.";
        }

        if (assessment.Pack.Retirement is not null || assessment.Standing is Standing.Retire or Standing.Stop)
        {
            yield return assessment.Standing == Standing.Stop
                ? "Disposal: do not discharge or open a swollen, damaged or deeply discharged pack. Insulate its contacts, keep it outdoors or in a fire-resistant place, and ask your collection point or local authority how to hand in a damaged lithium battery."
                : "Disposal: discharge it slowly within the maker's limits, insulate its contacts, and hand it in where lithium batteries are collected; never with household waste. The maker's instructions and local rules come first.";
        }
    }
}
