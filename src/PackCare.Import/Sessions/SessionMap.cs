namespace PackCare.Import.Sessions;

/// <summary>Which rows belong to which session.</summary>
/// <param name="Segments">Runs of rows in order, without a hole.</param>
/// <param name="Labels">What the log calls the pack of each session, or null.</param>
internal sealed record SessionMap(IReadOnlyList<Segment> Segments, IReadOnlyList<string?> Labels)
{
    /// <summary>How many sessions there are.</summary>
    internal int Count => Labels.Count;

    /// <summary>The first and the last row of each session, from 0.</summary>
    internal (int First, int Last)[] Bounds()
    {
        var bounds = new (int First, int Last)[Count];
        Array.Fill(bounds, (-1, -1));
        foreach (Segment segment in Segments)
        {
            ref (int First, int Last) session = ref bounds[segment.Session];
            session = (session.First < 0 ? segment.Start : session.First, segment.End - 1);
        }

        return bounds;
    }

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
