using PackCare.Analysis.Assessments;
using PackCare.Analysis.Wording;

namespace PackCare.Analysis.Reasons;

/// <summary>What is known of resistance, capacity and time at full charge where it is no finding.</summary>
internal static class WearReasons
{
    /// <summary>The paragraphs.</summary>
    public static IEnumerable<string> Of(PackAssessment assessment)
    {
        ResistanceAssessment resistance = assessment.Resistance;
        if (resistance.Cells.Where(cell => cell.Ratio is not null).MaxBy(cell => cell.Ratio!.Value) is { } worst)
        {
            yield return $"Resistance, {(resistance.LagSeconds > 0 ? $"{Say.Number(resistance.LagSeconds!.Value, "0.#")} s after current steps" : "as the instrument stated it")} and at 25 C: most risen is cell {worst.Cell}, {Say.Interval(worst.Ratio!, "0.00", "times")} its baseline, {Say.FromSessions(worst.Ratio!.Count)}; watch at {Say.Number(resistance.WatchRatio, "0.##")}, act at {Say.Number(resistance.ActRatio, "0.##")}. {When(worst.LimitReached)}";
        }

        foreach (string sentence in resistance.Temperature)
        {
            yield return sentence;
        }

        CapacityAssessment capacity = assessment.Capacity;
        if (capacity.LatestAh is { } ah)
        {
            string health = capacity.HealthPercent is { } percent ? $", {Say.Interval(percent, "0", "%")} of {(capacity.FirstMeasuredAh is { } first ? $"the {Say.Interval(first, "0.00", "Ah")} first measured" : "the rated capacity")}; watch at {Say.Number(capacity.WatchPercent, "0")}, act at {Say.Number(capacity.ActPercent, "0")} %" : "";
            yield return $"Capacity: {Say.Interval(ah, "0.00", "Ah")} from {Say.Count(capacity.Series.Count, "session", "sessions")} ({capacity.Series.Count(point => point.Complete)} complete){health}. {When(capacity.LimitReached)}";
        }

        if (capacity.Efficiency is { } efficiency)
        {
            bool fits = efficiency.Low <= 1 && efficiency.High >= 0.97;
            yield return $"Check: capacities from discharges over those from charges give {Say.Interval(efficiency, "0.000", "")}, {Say.FromSessions(efficiency.Count)}; {(fits ? "charge counted in and out agree" : "they should agree within a few percent, so a current scale, the logging or the curve is off")}.";
        }

        FullChargeAssessment full = assessment.FullCharge;
        if (full.Spells.Count > 0)
        {
            string loss = full is { ExtraLossPercentLow: { } low, ExtraLossPercentHigh: { } high } ? $" Expected cost beyond storage level, by two published sources that disagree: {Say.Number(low, "0.0")} to {Say.Number(high, "0.0")} % of capacity over {Say.Count(full.Spells.Count, "spell", "spells")}." : "";
            yield return $"Full charge: {Say.Days(full.DaysConfirmed)} confirmed and {Say.Days(full.DaysPossible)} possible at {Say.Number(full.ThresholdVoltsPerCell, "0.00")} V a cell or more.{loss}";
        }
    }

    private static string Readings(int count) => $"by a line through {Say.Count(count, "reading", "readings")}";

    private static string When(LimitDate date) => date switch
    {
        LimitDate.Passed => "The act limit is passed.",
        LimitDate.Ahead { High: { } high } ahead => $"At this rate the act limit is reached on {Say.Day(ahead.Expected)} ({Say.Day(ahead.Low)} to {Say.Day(high)}), {Readings(ahead.Count)}.",
        LimitDate.Ahead ahead => $"At this rate the act limit is reached on {Say.Day(ahead.Expected)}, not before {Say.Day(ahead.Low)}, {Readings(ahead.Count)}; it may be never, since the change may be none.",
        LimitDate.NotWithin within => $"At this rate the act limit is not reached within {within.Years} years, {Readings(within.Count)}.",
        LimitDate.TooLittleData few => $"When the act limit is reached cannot be told: {few.Reason}.",
        _ => "",
    };
}
