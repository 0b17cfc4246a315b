using PackCare.Analysis.Assessments;

namespace PackCare.Analysis;

/// <summary>What needs doing, over all packs, most urgent first.</summary>
public static class DueList
{
    /// <summary>Collects the due items of packs that are in use.</summary>
    /// <param name="assessments">One assessment a pack; retired packs are left out.</param>
    public static IReadOnlyList<DueItem> Build(IEnumerable<PackAssessment> assessments) =>
        [.. assessments
            .Where(assessment => assessment.Pack.Retirement is null)
            .SelectMany(assessment => assessment.Findings.Where(finding => finding.Due is not null).Select(finding => new DueItem(assessment.Pack.Label, finding.Due!.Value, finding, finding.Since)))
            .OrderBy(item => item.Urgency)
            .ThenByDescending(item => item.Finding.Level)
            .ThenBy(item => item.PackLabel, StringComparer.OrdinalIgnoreCase)];
}
