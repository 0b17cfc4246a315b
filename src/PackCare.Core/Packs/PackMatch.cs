namespace PackCare.Core.Packs;

/// <summary>To which pack a session was found to belong.</summary>
public abstract record PackMatch
{
    private PackMatch()
    {
    }

    /// <summary>It names a pack that is on record.</summary>
    /// <param name="Pack">That pack.</param>
    /// <param name="Why">The evidence, a clause.</param>
    public sealed record Assigned(Pack Pack, string Why) : PackMatch;

    /// <summary>It cannot be told.</summary>
    /// <param name="Suggestions">Packs that it could be, likeliest first; may be empty.</param>
    /// <param name="Why">What stood in the way, a clause.</param>
    public sealed record Unassigned(IReadOnlyList<Pack> Suggestions, string Why) : PackMatch;
}
