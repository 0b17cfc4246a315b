namespace PackCare.Import.Tables;

/// <summary>Splits a header of several words a column by where the columns of a table stand that is laid out with blanks.</summary>
internal static class AlignedHeader
{
    /// <summary>The header's fields, or none if it does not stand over the columns.</summary>
    /// <param name="header">The line above the table.</param>
    /// <param name="rows">The table's rows.</param>
    /// <param name="width">How many fields a row has.</param>
    internal static string[]? Split(HeadRow header, IReadOnlyList<HeadRow> rows, int width)
    {
        if (header.Raw.Contains('"', StringComparison.Ordinal) || header.Raw.Contains('\t', StringComparison.Ordinal))
        {
            return null;
        }

        string[] apart = header.Raw.Split("  ", StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        return apart.Length == width ? apart : ByEdges(header.Raw, rows, width, starts: true) ?? ByEdges(header.Raw, rows, width, starts: false);
    }

    // Each column is flush at one edge, and the header's words are so too.
    private static string[]? ByEdges(string header, IReadOnlyList<HeadRow> rows, int width, bool starts)
    {
        int[]? edges = null;
        foreach (HeadRow row in rows)
        {
            int[] found = Edges(row.Raw, starts);
            if (found.Length != width || (edges is not null && !edges.SequenceEqual(found)))
            {
                return null;
            }

            edges = found;
        }

        if (edges is null || edges.Any(edge => !IsEdge(header, edge, starts)))
        {
            return null;
        }

        int[] cuts = starts ? [0, .. edges.Skip(1), header.Length] : [0, .. edges.SkipLast(1).Select(edge => edge + 1), header.Length];
        string[] fields = [.. cuts.Zip(cuts.Skip(1), (from, to) => header[from..to].Trim())];
        return fields.All(field => field.Length > 0) ? fields : null;
    }

    private static int[] Edges(string row, bool starts) => [.. Enumerable.Range(0, row.Length).Where(at => IsEdge(row, at, starts))];

    private static bool IsEdge(string row, int at, bool starts)
    {
        int beside = starts ? at - 1 : at + 1;
        return at < row.Length && !IsBlank(row[at]) && (beside < 0 || beside >= row.Length || IsBlank(row[beside]));
    }

    private static bool IsBlank(char c) => c is ' ' or '\r' or '\n';
}
