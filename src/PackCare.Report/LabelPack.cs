using PackCare.Core.Packs;

namespace PackCare.Report;

/// <summary>A pack for which there is to be a label.</summary>
/// <param name="Pack">The pack.</param>
/// <param name="FirstUse">The day of its first logged session, as the clock showed it there; null without any.</param>
public sealed record LabelPack(Pack Pack, DateOnly? FirstUse);
