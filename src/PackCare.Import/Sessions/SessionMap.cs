namespace PackCare.Import.Sessions;

/// <summary>Which rows belong to which session.</summary>
/// <param name="Segments">Runs of rows in order, without a hole.</param>
/// <param name="Labels">What the log calls the pack of each session, or null.</param>
/// <param name="Modes">The word in the mode column that each session began with, or null.</param>
internal sealed record SessionMap(IReadOnlyList<Segment> Segments, IReadOnlyList<string?> Labels, IReadOnlyList<string?> Modes)
{
    /// <summary>How many sessions there are.</summary>
    internal int Count => Labels.Count;

    /// <summary>The run of rows that a row, from 0, belongs to.</summary>
    internal Segment SegmentOf(int row)
    {
        int low = 0;
        int high = Segments.Count - 1;
        while (low < high)
        {
            int middle = (low + high) / 2;
            (low, high) = row < Segments[middle].End ? (low, middle) : (middle + 1, high);
        }

        return Segments[low];
    }
}
