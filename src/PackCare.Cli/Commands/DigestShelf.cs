using System.Globalization;
using PackCare.Analysis;
using PackCare.Analysis.Digests;
using PackCare.Core.Packs;

namespace PackCare.Cli.Commands;

/// <summary>
/// How judgements are kept in a history: behind a seal over everything that they rest on (the pack and its revision, the
/// user's own limits, the very build that judged) and over their own text. Whatever of it is another, they do not count.
/// </summary>
internal static class DigestShelf
{
    /// <summary>Under which name they are kept.</summary>
    public const string Name = "brief";

    private const int SealLength = 16;

    // FNV-1a, 64 bits (Fowler, Noll and Vo; RFC 9923), over UTF-16 units: it guards against accidents, not against people, and
    // needs no library to be loaded. A change of one unit always changes it, since each step can be undone.
    private const ulong Basis = 14695981039346656037;
    private const ulong Prime = 1099511628211;

    // A build is known by the identity that the compiler gives to its content; arithmetic may differ between runtimes.
    private static readonly ulong _maker = Mix(
        Mix(Mix(Basis, typeof(PackAnalyzer).Module.ModuleVersionId.ToString("N")), typeof(Pack).Module.ModuleVersionId.ToString("N")),
        Environment.Version.ToString());

    /// <summary>The text to keep.</summary>
    public static string Seal(PackDigest digest, long packId, long revision, string limits)
    {
        string text = digest.ToText();
        return SealOf(text, packId, revision, limits).ToString("x16", CultureInfo.InvariantCulture) + "\t" + text;
    }

    /// <summary>What was kept, or null where it does not count.</summary>
    public static PackDigest? Open(string kept, long packId, long revision, string limits) =>
        kept.Length > SealLength
        && ulong.TryParse(kept.AsSpan(0, SealLength), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out ulong seal)
        && kept[(SealLength + 1)..] is var text
        && seal == SealOf(text, packId, revision, limits)
            ? PackDigest.Parse(text)
            : null;

    private static ulong SealOf(string text, long packId, long revision, string limits) =>
        Mix(Mix(Mix(Mix(_maker, packId), revision), limits), text);

    private static ulong Mix(ulong hash, long number)
    {
        for (int shift = 0; shift < 64; shift += 16)
        {
            hash = (hash ^ (ushort)(number >> shift)) * Prime;
        }

        return hash;
    }

    private static ulong Mix(ulong hash, string text)
    {
        foreach (char unit in text)
        {
            hash = (hash ^ unit) * Prime;
        }

        return Mix(hash, text.Length);
    }
}
