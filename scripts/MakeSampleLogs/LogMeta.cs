namespace PackCare.SampleLogs;

/// <summary>What a station knows about a session besides its samples.</summary>
/// <param name="Pack">The pack's label; empty where it was left out.</param>
/// <param name="Started">Time of the first sample.</param>
/// <param name="Number">Running number of the file at its station, from 1.</param>
internal sealed record LogMeta(string Pack, DateTimeOffset Started, int Number);
