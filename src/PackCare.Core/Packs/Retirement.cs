namespace PackCare.Core.Packs;

/// <summary>That a pack was taken out of use.</summary>
/// <param name="At">When, with the offset at which it was entered.</param>
/// <param name="Reason">Why, in the owner's words.</param>
public sealed record Retirement(DateTimeOffset At, string Reason);
