using PackCare.Analysis.Assessments;
using PackCare.Analysis.Limits;
using PackCare.Analysis.Records;
using PackCare.Analysis.Resistance;
using PackCare.Analysis.Trends;
using PackCare.Analysis.Wording;

namespace PackCare.Analysis.Standings;

/// <summary>Findings about how the pack is kept, and about what is not known of it.</summary>
internal static class CareFindings
{
    /// <summary>How many sessions with cells it takes before a pack may be called sound.</summary>
    public const int JudgedSessions = 5;

    private const double PastDays = 365;

    /// <summary>The findings.</summary>
    public static IEnumerable<Finding> Of(Evidence evidence) => FullNow(evidence).Concat(FullBefore(evidence)).Concat(Overdue(evidence)).Concat(TooLittle(evidence));

    private static IEnumerable<Finding> FullNow(Evidence evidence)
    {
        double due = evidence.Limits[LimitKey.FullSpellDue];
        double overdue = evidence.Limits[LimitKey.FullSpellOverdue];
        if (evidence.FullCharge.CurrentSpell is not { } spell || spell.Days <= due)
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

    private static IEnumerable<Finding> FullBefore(Evidence evidence)
    {
        double limit = evidence.Limits[LimitKey.FullSpellPast];
        FullSpell[] spells = [.. evidence.FullCharge.Spells.Where(spell => spell.Confirmed && !spell.InProgress && spell.Days >= limit && (evidence.Record.Now - spell.To).TotalDays <= PastDays)];
        if (spells.Length == 0)
        {
            yield break;
        }

        FullSpell longest = spells.MaxBy(spell => spell.Days)!;
        double days = spells.Sum(spell => spell.Days);
        string loss = evidence.FullCharge is { ExtraLossPercentLow: { } low, ExtraLossPercentHigh: { } high }
            ? $" Two published sources put the capacity lost beyond storage level between {Say.Number(low, "0.0")} and {Say.Number(high, "0.0")} %."
            : "";
        yield return new Finding(
            FindingCode.FullSpell, FindingLevel.Watch, null, longest.Days, "d", null, null, limit, limit - longest.Days, [],
            $"It lay full for {Say.Days(longest.Days)} from {Say.Day(longest.From)} to {Say.Day(longest.To)}, {Say.Days(days)} in long spells in the past year.{loss}",
            "Bring it to storage level whenever it is not used within a day or two, and keep it cool.",
            DueUrgency.Plan, longest.From);
    }

    private static IEnumerable<Finding> Overdue(Evidence evidence)
    {
        double limit = evidence.Limits[LimitKey.CheckOverdue];
        PackRecord record = evidence.Record;
        DateTimeOffset? last = record.Rests.Count == 0 ? record.Last : record.Rests[^1].At;
        if (last is null || (record.Now - last.Value).TotalDays <= limit)
        {
            yield break;
        }

        double days = (record.Now - last.Value).TotalDays;
        yield return new Finding(
            FindingCode.CheckOverdue, FindingLevel.Note, null, days, "d", null, null, limit, limit - days, [],
            $"The last voltage on record is {Say.Days(days)} old, of {Say.Day(last.Value)}.",
            "Read its cell voltages and enter a spot check.",
            DueUrgency.Due, last);
    }

    private static IEnumerable<Finding> TooLittle(Evidence evidence)
    {
        int sessions = evidence.Record.Sessions.Count(session => session.Summary.Cells.Count == evidence.Record.Cells);
        var missing = new List<string>();
        if (evidence.Resistance.Cells.All(cell => cell.Ratio is null))
        {
            int have = ResistanceJudge.Judged(evidence.Resistance).Count(point => point.Cell == 1);
            missing.Add($"resistance ({have} of {ResistanceJudge.RatioSessions} sessions with a current step)");
        }

        if (evidence.Capacity.Series.Count < WearFindings.CapacitySessions)
        {
            missing.Add($"capacity ({evidence.Capacity.Series.Count} of {WearFindings.CapacitySessions} sessions that move a quarter of the charge or more between two rests)");
        }
        else if (evidence.Capacity.TrendAh is Trend.TooLittleData few)
        {
            missing.Add($"how capacity changes ({few.Have} of {TrendLine.Needed} sessions)");
        }

        if (sessions >= JudgedSessions && missing.Count == 0)
        {
            yield break;
        }

        if (sessions < JudgedSessions)
        {
            missing.Insert(0, $"the pack as a whole ({sessions} of {JudgedSessions} sessions with cell voltages)");
        }

        yield return new Finding(
            FindingCode.TooLittleData, FindingLevel.Note, null, sessions, "sessions", null, null, JudgedSessions, sessions - JudgedSessions, [],
            $"Too little is on record to judge {string.Join(", ", missing)}.",
            "Log further charges from a low level to the end, with cell voltages, current and temperature, and a minute of rest at both ends.",
            DueUrgency.Plan);
    }
}
