using PackCare.Import.Guides;

namespace PackCare.Import;

/// <summary>What the user fixes beforehand about how logs are read.</summary>
/// <param name="Started">When the file's only session began, or null to find out.</param>
/// <param name="Zone">The zone in which times without an offset are meant.</param>
/// <param name="AllowTruncated">Whether a last row that was cut off is dropped (and named) instead of refusing the file.</param>
/// <param name="Guide">What a reading guide fixes, or null.</param>
/// <param name="IsWanted">Asked before a log is read as a whole, once its beginning has shown how; null for always. What is not wanted comes back empty.</param>
public sealed record ReadOptions(DateTimeOffset? Started, TimeZoneInfo Zone, bool AllowTruncated = false, ReadingGuide? Guide = null, Func<bool>? IsWanted = null);
