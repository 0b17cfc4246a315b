using PackCare.Core.Sessions;

namespace PackCare.Store.Json;

/// <summary>What an assignment replaced: the pack before, and the summary that was derived for it.</summary>
internal sealed record AssignmentState(long? PackId, SessionSummary Summary);
