namespace PackCare.Import;

/// <summary>Where a log's bytes come from, as far as a reading may use it.</summary>
/// <param name="Name">File name without folders; it may name the pack or the date.</param>
/// <param name="LastWritten">The file's own date, the last resort for a session without one.</param>
public sealed record LogSource(string Name, DateTimeOffset LastWritten);
