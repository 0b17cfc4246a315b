using System.Globalization;
using PackCare.Analysis.Assessments;
using PackCare.Analysis.Limits;
using PackCare.Analysis.Records;
using PackCare.Analysis.Wording;

namespace PackCare.Analysis.Imbalance;

/// <summary>Names why cells differ, with what speaks for and against, or says that the evidence does not decide.</summary>
internal static class CauseJudge
{
    // A cell of one and a third times the others' resistance shows under load where it does not at rest (ours, no source).
    private const double UnlikeResistance = 1.3;
    private const double SureErrors = 4;

    /// <summary>The cause and its evidence.</summary>
    public static (ImbalanceCause Cause, int? Cell, IReadOnlyList<string> Evidence) Judge(PackRecord record, ImbalanceFacts facts, LimitTable limits)
    {
        var evidence = new List<string>();
        IReadOnlyList<RestReading> standing = SpreadWatch.Standing(facts.AfterFull, limits[LimitKey.RestSpreadWatch]);
        IReadOnlyList<RestReading> resting = SpreadWatch.Standing(facts.AtRest, limits[LimitKey.RestSpreadRetire]);
        bool apart = standing.Count > 0 || resting.Count > 0;
        Leak? leak = facts.Leaks.Where(leak => leak.Stands(limits[LimitKey.SelfDischargeWatch])).MaxBy(leak => leak.PercentPerWeek.Value);
        Mismatch? mismatch = facts.Mismatches.Where(cell => cell.Stands(limits[LimitKey.CapacityMismatchWatch])).MaxBy(cell => cell.Percent.Value);
        int? resistive = Resistive(facts);

        Describe(evidence, facts, standing, limits);
        if (leak is not null)
        {
            return (ImbalanceCause.SelfDischarge, leak.Cell, evidence);
        }

        if (mismatch is not null)
        {
            return (ImbalanceCause.Capacity, mismatch.Cell, evidence);
        }

        // Where the pack was hardly ever read at rest, the shape of its last session's curves stands in.
        AlignedOffset? shifted = facts.AfterFull.Count + facts.AtRest.Count < 3
            ? facts.Aligned.Where(cell => Math.Abs(cell.Errors) > SureErrors && Math.Abs(cell.Percent.Value) >= limits[LimitKey.ChargeOffsetWatch]).MaxBy(cell => Math.Abs(cell.Percent.Value))
            : null;
        if (!apart && shifted is null)
        {
            return resistive is null ? (ImbalanceCause.None, null, evidence) : (ImbalanceCause.Resistance, resistive, evidence);
        }

        int farthest = apart ? CellOffsets.Farthest((standing.Count > 0 ? standing[^1] : resting[^1]).Volts) : shifted!.Cell;
        if (farthest <= facts.ResistanceRatios.Count && facts.ResistanceRatios[farthest - 1] is { } own)
        {
            evidence.Add($"Cell {farthest}, which stands farthest off, has {Say.Interval(own, "0.00", "times")} the others' resistance, {Say.FromSessions(own.Count)}: {(own.Low > 1.15 ? "that adds to it under load, not at rest" : "resistance does not explain it")}.");
        }

        // With nothing at all known of rest, a shifted copy of the others' curve is called what it is now, an offset; what made it stays open.
        bool leakUnseen = facts.Leaks.Count == 0;
        bool leakExcluded = !leakUnseen && facts.Leaks.All(cell => cell.PercentPerWeek.High < 3 * limits[LimitKey.SelfDischargeWatch]);
        bool mismatchExcluded = facts.Mismatches.Count > 0 && facts.Mismatches.All(cell => cell.Percent.Low < limits[LimitKey.CapacityMismatchWatch]);
        if (leakUnseen)
        {
            evidence.Add("Open: whether a cell loses charge at rest and the offset comes back. Leave the pack at rest for 7 days or more and enter a spot check at both ends.");
        }

        if ((leakExcluded || leakUnseen) && mismatchExcluded)
        {
            return (ImbalanceCause.ChargeOffset, farthest, evidence);
        }

        if (!leakExcluded && !leakUnseen)
        {
            evidence.Add("Open: whether a cell loses charge at rest. Leave the pack at rest for 7 days or more and enter a spot check at both ends.");
        }

        if (!mismatchExcluded)
        {
            evidence.Add("Open: whether a cell holds less than the others. Log a whole charge or discharge with cell voltages and current.");
        }

        return (ImbalanceCause.Undetermined, farthest, evidence);
    }

    private static int? Resistive(ImbalanceFacts facts)
    {
        int? worst = null;
        for (int i = 0; i < facts.ResistanceRatios.Count; i++)
        {
            if (facts.ResistanceRatios[i] is { Count: >= 5 } ratio && ratio.Value >= UnlikeResistance && ratio.Low > 1.15
                && (worst is null || ratio.Value > facts.ResistanceRatios[worst.Value - 1]!.Value))
            {
                worst = i + 1;
            }
        }

        return worst;
    }

    private static void Describe(List<string> evidence, ImbalanceFacts facts, IReadOnlyList<RestReading> standing, LimitTable limits)
    {
        if (facts.AfterFull.Count > 0)
        {
            evidence.Add(string.Create(CultureInfo.InvariantCulture, $"{facts.AfterFull.Count(r => r.SpreadMillivolts > limits[LimitKey.RestSpreadWatch])} of {facts.AfterFull.Count} completed charges ended with the cells more than {limits[LimitKey.RestSpreadWatch]:0} mV apart, the latest with {facts.AfterFull[^1].SpreadMillivolts:0} mV{(standing.Count > 0 ? "; this stands" : "")}."));
        }

        if (facts.Leaks.MaxBy(leak => leak.PercentPerWeek.Value) is { } leak)
        {
            evidence.Add(string.Create(CultureInfo.InvariantCulture, $"At rest cell {leak.Cell} loses {Say.Interval(leak.PercentPerWeek, "0.00", "% of its capacity a week")} more than the others, over {leak.Days:0} days of rest in {Say.Count(leak.PercentPerWeek.Count, "stretch", "stretches")}: {(leak.Significant ? "more than chance explains" : "not told from none")}."));
        }
        else
        {
            evidence.Add("No two readings at rest with nothing in between: self-discharge cannot be judged.");
        }

        if (facts.Mismatches.MaxBy(cell => cell.Percent.Value) is { } mismatch)
        {
            evidence.Add(string.Create(CultureInfo.InvariantCulture, $"By the shape of its voltage over charge, cell {mismatch.Cell} holds {Say.Interval(mismatch.Percent, "0.0", "%")} less than the others, from {Say.Count(mismatch.Percent.Count, "session", "sessions")}: {(mismatch.Significant ? "more than chance explains" : "not told from none")}."));
        }
        else
        {
            evidence.Add("No session moves enough charge to compare the cells' capacities.");
        }

        if (facts.Aligned.MaxBy(cell => Math.Abs(cell.Percent.Value)) is { } shift && Math.Abs(shift.Errors) > SureErrors)
        {
            evidence.Add($"In the latest session with current, the curve of cell {shift.Cell} is that of the others shifted by {Say.Interval(shift.Percent, "0.0", "% of capacity")}, from 1 session.");
        }

        var ratios = facts.ResistanceRatios.Select((ratio, i) => (Cell: i + 1, Ratio: ratio)).Where(item => item.Ratio is not null).ToList();
        if (ratios.Count > 0)
        {
            var worst = ratios.MaxBy(item => item.Ratio!.Value);
            evidence.Add(string.Create(CultureInfo.InvariantCulture, $"Cell {worst.Cell} has {Say.Interval(worst.Ratio!, "0.00", "times")} the resistance of the middle one of the others, {Say.FromSessions(worst.Ratio!.Count)}; resistance shows under load and not at rest."));
        }
    }
}
