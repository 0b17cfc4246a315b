namespace PackCare.Core.Packs;

/// <summary>A pack as the history knows it.</summary>
/// <param name="Id">Its number in this history.</param>
/// <param name="Details">What its owner states.</param>
/// <param name="Added">When it was entered.</param>
/// <param name="Retirement">Set once it was taken out of use.</param>
public sealed record Pack(long Id, PackDetails Details, DateTimeOffset Added, Retirement? Retirement = null)
{
    /// <summary>The owner's name for it.</summary>
    public string Label => Details.Label;
}
