using PackCare.Analysis.Limits;

namespace PackCare.Analysis.Standings;

/// <summary>The limits that findings about keeping are held against, in days.</summary>
internal sealed record CareLimits(double FullSpellDueDays, double FullSpellOverdueDays, double FullSpellPastDays, double CheckOverdueDays)
{
    /// <summary>From a table.</summary>
    public static CareLimits Of(LimitTable limits) => new(
        limits[LimitKey.FullSpellDue],
        limits[LimitKey.FullSpellOverdue],
        limits[LimitKey.FullSpellPast],
        limits[LimitKey.CheckOverdue]);
}
