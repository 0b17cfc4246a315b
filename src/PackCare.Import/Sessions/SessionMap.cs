namespace PackCare.Import.Sessions;

/// <summary>Which rows belong to which session.</summary>
/// <param name="Segments">Runs of rows in order, without a hole.</param>
/// <param name="Labels">What the log calls the pack of each session, or null.</param>
/// <param name="Modes">The word in the mode column that each session began with, or null.</param>
internal sealed record SessionMap(IReadOnlyList<Segment> Segments, IReadOnlyList<string?> Labels, IReadOnlyList<string?> Modes)
{
    /// <summary>How many sessions there are.</summary>
    internal int Count => Labels.Count;
}
