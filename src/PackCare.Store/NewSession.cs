using PackCare.Core.Sessions;

namespace PackCare.Store;

/// <summary>A session on its way into the history.</summary>
/// <param name="PackId">The pack it belongs to, or null to store it unassigned.</param>
/// <param name="Log">The session.</param>
/// <param name="Summary">Its summary.</param>
public sealed record NewSession(long? PackId, SessionLog Log, SessionSummary Summary);
