using PackCare.Core.Sessions;

namespace PackCare.Store;

/// <summary>A session that belongs to no pack yet.</summary>
/// <param name="Session">The session.</param>
/// <param name="PackHint">What the log calls the pack, or null.</param>
public sealed record UnassignedSession(SessionRecord Session, string? PackHint);
