namespace PackCare.Bench;

/// <summary>What commands took at one size of a history, in milliseconds.</summary>
/// <param name="Sessions">How many sessions it held.</param>
/// <param name="Due">The due list.</param>
/// <param name="List">The list of packs.</param>
/// <param name="Show">One pack.</param>
/// <param name="Import">One more file.</param>
internal sealed record LoadPoint(int Sessions, double Due, double List, double Show, double Import);
