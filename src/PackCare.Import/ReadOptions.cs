using PackCare.Import.Guides;

namespace PackCare.Import;

/// <summary>What the user fixes beforehand about how logs are read.</summary>
/// <param name="Started">When the file's only session began, or null to find out.</param>
/// <param name="Zone">The zone in which times without an offset are meant.</param>
/// <param name="AllowTruncated">Whether a last row that was cut off is dropped (and named) instead of refusing the file.</param>
/// <param name="Guide">What a reading guide fixes, or null.</param>
/// <param name="Processors">Told while reading keeps all processors busy, so that other work on the same log can wait; or null.</param>
/// <param name="Unwanted">Cancelled where it turns out that nobody wants the log; reading it then ends with an <see cref="OperationCanceledException"/>.</param>
public sealed record ReadOptions(DateTimeOffset? Started, TimeZoneInfo Zone, bool AllowTruncated = false, ReadingGuide? Guide = null, ProcessorUse? Processors = null, CancellationToken Unwanted = default);
