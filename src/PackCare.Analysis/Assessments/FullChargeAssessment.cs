namespace PackCare.Analysis.Assessments;

/// <summary>How long the pack sat full, and what that is thought to cost.</summary>
/// <param name="ThresholdVoltsPerCell">From which rest voltage a cell counts as full, in volts.</param>
/// <param name="DaysConfirmed">Days in confirmed spells, in all.</param>
/// <param name="DaysPossible">Days in possible spells, in all, without the confirmed ones.</param>
/// <param name="CurrentSpell">The spell in progress, or null.</param>
/// <param name="Spells">All spells in order of time.</param>
/// <param name="ExtraLossPercentLow">Lower of the two published expectations of capacity lost beyond storage level, in percent; null without spells.</param>
/// <param name="ExtraLossPercentHigh">Higher of the two, in percent; null without spells.</param>
public sealed record FullChargeAssessment(
    double ThresholdVoltsPerCell,
    double DaysConfirmed,
    double DaysPossible,
    FullSpell? CurrentSpell,
    IReadOnlyList<FullSpell> Spells,
    double? ExtraLossPercentLow,
    double? ExtraLossPercentHigh);
