namespace PackCare.Store;

/// <summary>What was exported.</summary>
/// <param name="Packs">How many packs.</param>
/// <param name="Sessions">How many sessions, each with its samples.</param>
/// <param name="SessionsLeftOut">Sessions whose samples are damaged; an examination says how, and a repair may bring most of them back.</param>
public sealed record ExportReport(long Packs, long Sessions, IReadOnlyList<long> SessionsLeftOut);
