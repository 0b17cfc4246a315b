using PackCare.Core.Sessions;

namespace PackCare.Core.Packs;

/// <summary>All that is on record about one pack, each list in order of time; the whole input of the analysis.</summary>
/// <param name="Pack">The pack.</param>
/// <param name="Sessions">Its logged sessions, summarised.</param>
/// <param name="SpotChecks">Its spot checks.</param>
/// <param name="Entries">Its diary entries.</param>
public sealed record PackHistory(
    Pack Pack,
    IReadOnlyList<SessionRecord> Sessions,
    IReadOnlyList<SpotCheck> SpotChecks,
    IReadOnlyList<DiaryEntry> Entries);
