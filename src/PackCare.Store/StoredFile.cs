namespace PackCare.Store;

/// <summary>A file that the history holds.</summary>
/// <param name="Sha256">Lower-case hexadecimal SHA-256 of its bytes.</param>
/// <param name="Name">Its name at import, without folders.</param>
/// <param name="Imported">When it was imported.</param>
/// <param name="SessionIds">Its sessions in order.</param>
public sealed record StoredFile(string Sha256, string Name, DateTimeOffset Imported, IReadOnlyList<long> SessionIds);
