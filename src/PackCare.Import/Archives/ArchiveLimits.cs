namespace PackCare.Import.Archives;

/// <summary>How much an archive may hold before it is refused as hostile or mistaken.</summary>
/// <param name="MaxEntries">Most files in one archive.</param>
/// <param name="MaxExpandedBytes">Most bytes of all its files together, once expanded.</param>
/// <param name="MaxRatio">Most expanded bytes for one compressed byte, above <paramref name="RatioFreeBytes"/>.</param>
/// <param name="RatioFreeBytes">Expanded size up to which the ratio does not matter.</param>
public sealed record ArchiveLimits(int MaxEntries = 10_000, long MaxExpandedBytes = 4L << 30, int MaxRatio = 300, long RatioFreeBytes = 16 << 20);
