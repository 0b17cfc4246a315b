using PackCare.Analysis.Assessments;
using PackCare.Analysis.Imbalance;
using PackCare.Analysis.Limits;
using PackCare.Analysis.Records;
using PackCare.Analysis.Statistics;
using PackCare.Analysis.Wording;
using PackCare.Core.Estimates;

namespace PackCare.Analysis.Standings;

/// <summary>Findings about cells that differ.</summary>
internal static class ImbalanceFindings
{
    private const int ChargesLookedAt = 4;
    private const int ChargesApart = 3;

    /// <summary>The findings.</summary>
    public static IEnumerable<Finding> Of(Evidence evidence) =>
        Spread(evidence).Concat(NeverBalanced(evidence)).Concat(Offset(evidence)).Concat(Leaks(evidence)).Concat(Mismatches(evidence));

    private static IEnumerable<Finding> Spread(Evidence evidence)
    {
        LimitTable limits = evidence.Limits;
        (FindingLevel Level, LimitKey Key, IReadOnlyList<RestReading> Readings, bool AfterFull)[] steps =
        [
            (FindingLevel.Stop, LimitKey.RestSpreadStop, SpreadWatch.Standing(evidence.Facts.AfterFull, limits[LimitKey.RestSpreadStop]), true),
            (FindingLevel.Stop, LimitKey.RestSpreadStop, SpreadWatch.Standing(evidence.Facts.AtRest, limits[LimitKey.RestSpreadStop]), false),
            (FindingLevel.Retire, LimitKey.RestSpreadRetire, SpreadWatch.Standing(evidence.Facts.AfterFull, limits[LimitKey.RestSpreadRetire]), true),
            (FindingLevel.Watch, LimitKey.RestSpreadRetire, SpreadWatch.Standing(evidence.Facts.AtRest, limits[LimitKey.RestSpreadRetire]), false),
            (FindingLevel.Watch, LimitKey.RestSpreadWatch, SpreadWatch.Standing(evidence.Facts.AfterFull, limits[LimitKey.RestSpreadWatch]), true),
        ];
        foreach ((FindingLevel level, LimitKey key, IReadOnlyList<RestReading> readings, bool afterFull) in steps)
        {
            if (readings.Count == 0)
            {
                continue;
            }

            // What one balance charge mends is no reason to retire a pack.
            bool mendable = level == FindingLevel.Retire && evidence.Imbalance.Cause == ImbalanceCause.ChargeOffset;
            RestReading last = readings[^1];
            double[] against = CellOffsets.AgainstOthers(last.Volts);
            int cell = CellOffsets.Farthest(last.Volts);
            string direction = against[cell - 1] > 0 ? "above" : "below";
            double error = 1000 * last.DifferenceError * Math.Sqrt(2);
            yield return new Finding(
                FindingCode.RestSpread,
                mendable ? FindingLevel.Watch : level,
                cell,
                last.SpreadMillivolts,
                "mV",
                Math.Max(0, last.SpreadMillivolts - (1.96 * error)),
                last.SpreadMillivolts + (1.96 * error),
                limits[key],
                limits[key] - last.SpreadMillivolts,
                Sessions(readings),
                $"Cells stand {Say.Number(last.SpreadMillivolts, "0")} mV apart {(afterFull ? "after a completed charge" : "at rest")}, cell {cell} {direction} the others; over {Say.Number(limits[key], "0")} mV in {Say.Count(readings.Count, "reading", "readings")} since {Say.Day(readings[0].At)}.",
                level == FindingLevel.Stop ? Actions.Stop : level == FindingLevel.Retire && !mendable ? Actions.Balance + " If the spread comes back, retire it." : Actions.Balance,
                Count: 1);
            yield break;
        }
    }

    private static IEnumerable<Finding> NeverBalanced(Evidence evidence)
    {
        IReadOnlyList<RestReading> charges = evidence.Facts.AfterFull;
        double limit = evidence.Limits[LimitKey.RestSpreadWatch];
        RestReading[] lately = [.. charges.TakeLast(ChargesLookedAt)];
        RestReading[] apart = [.. lately.Where(reading => reading.SpreadMillivolts > limit)];
        if (!NeverLevel(charges, limit))
        {
            yield break;
        }

        yield return new Finding(
            FindingCode.NeverBalanced,
            FindingLevel.Watch,
            null,
            lately[^1].SpreadMillivolts,
            "mV",
            null,
            null,
            limit,
            limit - lately[^1].SpreadMillivolts,
            Sessions(apart),
            $"{apart.Length} of the last {lately.Length} completed charges ended with the cells more than {Say.Number(limit, "0")} mV apart, the latest with {Say.Number(lately[^1].SpreadMillivolts, "0")} mV: they are charged without being brought level.",
            "Charge it with the balance lead connected and the charger's balancing on, within the maker's limits; cells that are not brought level can be overcharged one by one.");
    }

    // On with three of four charges over the limit; off with one that ends under half of it, which is to be brought level, or two in a row well under it.
    private static bool NeverLevel(IReadOnlyList<RestReading> charges, double limit)
    {
        bool on = false;
        for (int end = ChargesLookedAt; end <= charges.Count; end++)
        {
            int apart = charges.Skip(end - ChargesLookedAt).Take(ChargesLookedAt).Count(reading => reading.SpreadMillivolts > limit);
            double last = charges[end - 1].SpreadMillivolts;
            bool level = last < 0.5 * limit || Math.Max(last, charges[end - 2].SpreadMillivolts) < 0.8 * limit;
            on = (on || apart >= ChargesApart) && !level;
        }

        return on;
    }

    private static IEnumerable<Finding> Offset(Evidence evidence)
    {
        double limit = evidence.Limits[LimitKey.ChargeOffsetWatch];
        if (evidence.Imbalance.Cause is not (ImbalanceCause.ChargeOffset or ImbalanceCause.Undetermined) || evidence.Imbalance.ChargeOffsetPercent.Count == 0)
        {
            yield break;
        }

        (Estimate offset, int index) = evidence.Imbalance.ChargeOffsetPercent.Select((estimate, i) => (estimate, i)).MaxBy(item => Math.Abs(item.estimate.Value));
        // Readings where the curve is too flat to tell neither raise nor end it.
        IEnumerable<double> back = evidence.Record.Rests.Reverse()
            .Select(reading => CellOffsets.Percent(reading, evidence.Record.Profile.Curve))
            .Where(all => all.Count > 0)
            .Select(all => Math.Abs(all[index].Value));
        if (!Latch.StillPastTwice(back, limit, 0.8 * limit) || offset.Low * offset.High <= 0)
        {
            yield break;
        }

        RestReading latest = evidence.Record.Rests[^1];
        string amount = evidence.Imbalance.ChargeOffsetAh is { Count: > 0 } ah ? $", {Range(Estimates.Scale(ah[index], 1000), "0", "mAh")}" : "";
        yield return new Finding(
            FindingCode.ChargeOffset,
            FindingLevel.Watch,
            index + 1,
            offset.Value,
            "%",
            offset.Low,
            offset.High,
            limit,
            limit - Math.Abs(offset.Value),
            latest.SessionId is { } id ? [id] : [],
            $"Cell {index + 1} is {(offset.Value > 0 ? "fuller" : "emptier")} than the others by {Range(offset, "0.0", "% of capacity")}{amount}, from {Say.Count(offset.Count, "reading", "readings")}.",
            Actions.Balance,
            Count: offset.Count);
    }

    private static IEnumerable<Finding> Leaks(Evidence evidence)
    {
        double watch = evidence.Limits[LimitKey.SelfDischargeWatch];
        double retire = evidence.Limits[LimitKey.SelfDischargeRetire];
        foreach (Leak leak in evidence.Facts.Leaks.Where(leak => leak.Stands(watch)).OrderByDescending(leak => leak.PercentPerWeek.Value))
        {
            bool grave = leak.Stands(retire);
            double limit = grave ? retire : watch;
            yield return new Finding(
                FindingCode.SelfDischarge,
                grave ? FindingLevel.Retire : FindingLevel.Watch,
                leak.Cell,
                leak.PercentPerWeek.Value,
                "%/week",
                leak.PercentPerWeek.Low,
                leak.PercentPerWeek.High,
                limit,
                limit - leak.PercentPerWeek.Value,
                leak.Sessions,
                $"Cell {leak.Cell} loses {Say.Interval(leak.PercentPerWeek, "0.00", "% of its capacity a week")} more than the others at rest, over {Say.Number(leak.Days, "0")} days in {Say.Count(leak.PercentPerWeek.Count, "stretch", "stretches")}.",
                (grave ? "A cell that loses charge at rest may have a fault inside. " + Actions.Retire : "A cell that loses charge at rest may have a fault inside: do not leave the pack unwatched on a charger, check it weekly in storage, and retire it if the loss grows."),
                Count: leak.PercentPerWeek.Count);
        }
    }

    private static IEnumerable<Finding> Mismatches(Evidence evidence)
    {
        double watch = evidence.Limits[LimitKey.CapacityMismatchWatch];
        double retire = evidence.Limits[LimitKey.CapacityMismatchRetire];
        foreach (Mismatch cell in evidence.Facts.Mismatches.Where(cell => cell.Stands(watch)).OrderByDescending(cell => cell.Percent.Value))
        {
            bool grave = Latch.StillPast(cell.Before.Select(one => one.Percent.Low).Prepend(cell.Percent.Low), retire, 0.9 * retire);
            double limit = grave ? retire : watch;
            yield return new Finding(
                FindingCode.CapacityMismatch,
                grave ? FindingLevel.Retire : FindingLevel.Watch,
                cell.Cell,
                cell.Percent.Value,
                "%",
                cell.Percent.Low,
                cell.Percent.High,
                limit,
                limit - cell.Percent.Value,
                cell.Sessions,
                $"Cell {cell.Cell} holds {Say.Interval(cell.Percent, "0.0", "%")} less than the others, from {Say.Count(cell.Percent.Count, "session", "sessions")}; balancing does not mend that.",
                grave ? Actions.Retire : "Stop a discharge by its lowest cell, not by the pack's voltage, and expect that cell to be empty first.",
                Count: cell.Percent.Count);
        }
    }

    // An amount without its sign, which the sentence says in a word.
    private static string Range(Estimate estimate, string format, string unit) =>
        Say.Interval(estimate.Value < 0 ? Estimates.Scale(estimate, -1) : estimate, format, unit);

    private static IReadOnlyList<long> Sessions(IEnumerable<RestReading> readings) => [.. readings.Select(reading => reading.SessionId).OfType<long>().Distinct()];
}
