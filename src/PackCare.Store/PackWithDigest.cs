using PackCare.Core.Packs;

namespace PackCare.Store;

/// <summary>A pack with what is kept of it.</summary>
/// <param name="Pack">The pack.</param>
/// <param name="Revision">A number that rises with every change to what is on record about it.</param>
/// <param name="Digest">The kept result where it still rests on what is on record, or null.</param>
public sealed record PackWithDigest(Pack Pack, long Revision, string? Digest);
