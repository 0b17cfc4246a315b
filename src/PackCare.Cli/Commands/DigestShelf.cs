using System.Globalization;
using System.Security.Cryptography;
using System.Text;
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

    private const int SealLength = 32;

    // A build is known by the identity that the compiler gives to its content; arithmetic may differ between runtimes.
    private static readonly string _maker = string.Create(
        CultureInfo.InvariantCulture,
        $"{typeof(PackAnalyzer).Module.ModuleVersionId} {typeof(Pack).Module.ModuleVersionId} {Environment.Version}");

    /// <summary>The text to keep.</summary>
    public static string Seal(PackDigest digest, long packId, long revision, string limits)
    {
        string text = digest.ToText();
        return SealOf(text, packId, revision, limits) + " " + text;
    }

    /// <summary>What was kept, or null where it does not count.</summary>
    public static PackDigest? Open(string kept, long packId, long revision, string limits)
    {
        if (kept.Length <= SealLength + 1)
        {
            return null;
        }

        string text = kept[(SealLength + 1)..];
        return kept.AsSpan(0, SealLength).SequenceEqual(SealOf(text, packId, revision, limits)) ? PackDigest.Parse(text) : null;
    }

    private static string SealOf(string text, long packId, long revision, string limits)
    {
        byte[] sealedText = Encoding.UTF8.GetBytes(string.Create(CultureInfo.InvariantCulture, $"{_maker}\n{packId} {revision}\n{limits}\n{text}"));
        return Convert.ToHexStringLower(SHA256.HashData(sealedText).AsSpan(0, SealLength / 2));
    }
}
