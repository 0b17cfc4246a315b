using PackCare.Analysis.Assessments;
using PackCare.Analysis.Records;

namespace PackCare.Analysis.Imbalance;

/// <summary>What is known of the cells against each other, before it is judged.</summary>
/// <param name="AfterFull">Readings after completed charges, in order of time.</param>
/// <param name="AtRest">Readings at rest, not deeply discharged, outside sessions' ends.</param>
/// <param name="Leaks">Self-discharge against the others.</param>
/// <param name="Mismatches">Capacity against the others.</param>
/// <param name="Aligned">Charge offsets by the latest session's curves.</param>
/// <param name="ResistanceRatios">Resistance of each cell over the others' median; null where not known.</param>
internal sealed record ImbalanceFacts(
    IReadOnlyList<RestReading> AfterFull,
    IReadOnlyList<RestReading> AtRest,
    IReadOnlyList<Leak> Leaks,
    IReadOnlyList<Mismatch> Mismatches,
    IReadOnlyList<AlignedOffset> Aligned,
    IReadOnlyList<Core.Estimates.Estimate?> ResistanceRatios)
{
    /// <summary>Gathers the facts.</summary>
    public static ImbalanceFacts Of(PackRecord record, ResistanceAssessment resistance, double? capacityAh)
    {
        double low = record.Profile.StorageLowVolts - 0.05;
        return new ImbalanceFacts(
            [.. record.Rests.Where(reading => reading.AfterFullCharge)],
            [.. record.Rests.Where(reading => reading.Source != RestSource.SessionEnd && reading.MeanVolts >= low)],
            LeakEstimator.Of(record),
            MismatchEstimator.Of(record),
            AlignedOffset.Latest(record, capacityAh),
            [.. resistance.Cells.Select(cell => AgainstOthers(cell, resistance))]);
    }

    private static Core.Estimates.Estimate? AgainstOthers(CellResistance cell, ResistanceAssessment all)
    {
        Core.Estimates.Estimate[] others = [.. all.Cells.Where(other => other.Cell != cell.Cell).Select(other => other.Milliohms).OfType<Core.Estimates.Estimate>().OrderBy(other => other.Value)];
        return cell.Milliohms is null || others.Length == 0 ? null : Statistics.Estimates.Ratio(cell.Milliohms, others[others.Length / 2]);
    }
}
