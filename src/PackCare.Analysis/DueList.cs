using System.Globalization;
using PackCare.Analysis.Assessments;

namespace PackCare.Analysis;

/// <summary>What needs doing, over all packs, most urgent first.</summary>
public static class DueList
{
    /// <summary>
    /// Collects the due items of packs that are in use. A pack to stop using is asked nothing else, one to retire
    /// no plans; cells of a pack that ask for the same are one item, told of the cell that is worst off.
    /// </summary>
    /// <param name="assessments">One assessment a pack; retired packs are left out.</param>
    public static IReadOnlyList<DueItem> Build(IEnumerable<PackAssessment> assessments) =>
        Build(assessments.Select(PackBrief.Of));

    /// <summary>Collects the due items of packs that are in use, as from their assessments.</summary>
    /// <param name="packs">One brief a pack; retired packs are left out.</param>
    public static IReadOnlyList<DueItem> Build(IEnumerable<PackBrief> packs) =>
        [.. packs
            .Where(pack => pack.Pack.Retirement is null)
            .SelectMany(Items)
            .OrderBy(item => (int)item.Urgency)
            .ThenByDescending(item => (int)item.Finding.Level)
            .ThenBy(item => item.PackLabel, StringComparer.OrdinalIgnoreCase)];

    private static IEnumerable<DueItem> Items(PackBrief pack)
    {
        DueUrgency last = pack.Standing switch
        {
            Standing.Stop => DueUrgency.Stop,
            Standing.Retire => DueUrgency.Due,
            _ => DueUrgency.Plan,
        };
        return pack.Findings
            .Where(finding => finding.Due <= last)
            .GroupBy(finding => (finding.Code, finding.Level, finding.Due, finding.Action))
            .Select(alike => Merge([.. alike.OrderBy(finding => finding.Margin ?? 0)]))
            .Select(finding => new DueItem(pack.Pack.Label, finding.Due!.Value, finding, finding.Since));
    }

    private static Finding Merge(IReadOnlyList<Finding> worstFirst)
    {
        Finding worst = worstFirst[0];
        string[] others = [.. worstFirst.Skip(1).Select(finding => finding.Cell).OfType<int>().Order().Select(cell => cell.ToString(CultureInfo.InvariantCulture))];
        string cells = others switch
        {
            [] => string.Empty,
            [var one] => $" Cell {one} is past the limit too.",
            _ => $" Cells {string.Join(", ", others[..^1])} and {others[^1]} are past the limit too.",
        };
        return worst with { Text = worst.Text + cells };
    }
}
