using PackCare.Analysis.Assessments;

namespace PackCare.Report.Pages;

/// <summary>Orders packs by urgency: those in use first, the gravest standing first, then what is due soonest.</summary>
internal static class PackOrder
{
    public static IReadOnlyList<ReportPack> Sort(ReportInput input)
    {
        Dictionary<string, DueUrgency> soonest = input.Due
            .GroupBy(item => item.PackLabel, StringComparer.OrdinalIgnoreCase)
            .ToDictionary(group => group.Key, group => group.Min(item => item.Urgency), StringComparer.OrdinalIgnoreCase);
        return
        [
            .. input.Packs
                .OrderBy(pack => pack.Assessment.Pack.Retirement is null ? 0 : 1)
                .ThenByDescending(pack => pack.Assessment.Standing)
                .ThenBy(pack => soonest.TryGetValue(pack.Assessment.Pack.Label, out DueUrgency urgency) ? (int)urgency : int.MaxValue)
                .ThenBy(pack => pack.Assessment.Pack.Label, StringComparer.Ordinal)
                .ThenBy(pack => pack.Assessment.Pack.Id),
        ];
    }
}
