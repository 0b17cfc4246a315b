namespace PackCare.Analysis.Assessments;

/// <summary>A stretch of time in which a pack sat at or above the full threshold.</summary>
/// <param name="From">From when.</param>
/// <param name="To">Until when; now, for one in progress.</param>
/// <param name="Confirmed">True where the next record shows it still full; false where that cannot be told.</param>
/// <param name="InProgress">Whether it still goes on as far as is known.</param>
public sealed record FullSpell(DateTimeOffset From, DateTimeOffset To, bool Confirmed, bool InProgress)
{
    /// <summary>Its length in days.</summary>
    public double Days => (To - From).TotalDays;
}
