using PackCare.Analysis.Assessments;
using PackCare.Analysis.FullCharge;
using PackCare.Analysis.Wording;

namespace PackCare.Analysis.Standings;

/// <summary>Findings about how a pack is kept: those that come, grow and go by the mere passing of time.</summary>
internal static class KeepingFindings
{
    private const double PastDays = 365;

    /// <summary>The findings at a moment.</summary>
    public static IEnumerable<Finding> Of(Passing passing, CareLimits limits, DateTimeOffset now)
    {
        IReadOnlyList<FullSpell> spells = passing.SpellsAt(now);
        return FullNow(spells, limits).Concat(FullBefore(passing, spells, limits, now)).Concat(Overdue(passing.LastVoltage, limits, now));
    }

    private static IEnumerable<Finding> FullNow(IReadOnlyList<FullSpell> spells, CareLimits limits)
    {
        double due = limits.FullSpellDueDays;
        double overdue = limits.FullSpellOverdueDays;
        if (FullChargeJudge.Current(spells) is not { } spell || spell.Days <= due)
        {
            yield break;
        }

        double limit = spell.Days > overdue ? overdue : due;
        yield return new Finding(
            FindingCode.FullSpell, FindingLevel.Watch, null, spell.Days, "d", null, null, limit, limit - spell.Days, [],
            $"It was left full on {Say.Day(spell.From)} and nothing on record says that it was used since: full for {Say.Days(spell.Days)} as far as is known.",
            "Use it, or bring it to storage level within the maker's limits; if it was used, log the run.",
            spell.Days > overdue ? DueUrgency.Overdue : DueUrgency.Due, spell.From);
    }

    private static IEnumerable<Finding> FullBefore(Passing passing, IReadOnlyList<FullSpell> all, CareLimits limits, DateTimeOffset now)
    {
        double limit = limits.FullSpellPastDays;
        FullSpell[] spells = [.. all.Where(spell => spell.Confirmed && !spell.InProgress && spell.Days >= limit && (now - spell.To).TotalDays <= PastDays)];
        if (spells.Length == 0)
        {
            yield break;
        }

        FullSpell longest = spells.MaxBy(spell => spell.Days)!;
        double days = spells.Sum(spell => spell.Days);
        string loss = ExtraLoss.Percent(passing, all, now) is ({ } low, { } high)
            ? $" Two published sources put the capacity lost beyond storage level between {Say.Number(low, "0.0")} and {Say.Number(high, "0.0")} %, over {Say.Count(all.Count, "spell", "spells")}."
            : "";
        yield return new Finding(
            FindingCode.FullSpell, FindingLevel.Watch, null, longest.Days, "d", null, null, limit, limit - longest.Days, [],
            $"It lay full for {Say.Days(longest.Days)} from {Say.Day(longest.From)} to {Say.Day(longest.To)}, {Say.Days(days)} in long spells in the past year.{loss}",
            "Bring it to storage level whenever it is not used within a day or two, and keep it cool.",
            DueUrgency.Plan, longest.From);
    }

    private static IEnumerable<Finding> Overdue(DateTimeOffset? lastVoltage, CareLimits limits, DateTimeOffset now)
    {
        double limit = limits.CheckOverdueDays;
        if (lastVoltage is not { } last || (now - last).TotalDays <= limit)
        {
            yield break;
        }

        double days = (now - last).TotalDays;
        yield return new Finding(
            FindingCode.CheckOverdue, FindingLevel.Note, null, days, "d", null, null, limit, limit - days, [],
            $"The last voltage on record is {Say.Days(days)} old, of {Say.Day(last)}.",
            "Read its cell voltages and enter a spot check.",
            DueUrgency.Due, last);
    }
}
