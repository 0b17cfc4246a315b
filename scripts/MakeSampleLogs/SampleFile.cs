namespace PackCare.SampleLogs;

/// <summary>A file of the set.</summary>
/// <param name="Path">Path inside the set, with forward slashes.</param>
/// <param name="Bytes">Its bytes.</param>
internal sealed record SampleFile(string Path, byte[] Bytes);
