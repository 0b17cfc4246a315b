using PackCare.Core.Packs;
using PackCare.Import;

namespace PackCare.Cli.Importing;

/// <summary>How files are to be imported.</summary>
/// <param name="Pack">The pack that every session belongs to, or null to find out.</param>
/// <param name="Read">How logs are read.</param>
/// <param name="Guides">Reading guides that apply by themselves, and the one that was named.</param>
/// <param name="DryRun">Whether to read and judge only, and store nothing.</param>
internal sealed record ImportSettings(Pack? Pack, ReadOptions Read, GuideShelf Guides, bool DryRun = false);
