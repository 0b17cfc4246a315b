namespace PackCare.Import.Tables;

/// <summary>One line of a log's beginning, split at one delimiter.</summary>
/// <param name="Line">Line number from 1.</param>
/// <param name="Offset">Where it starts, in bytes of the UTF-8 form.</param>
/// <param name="Raw">The whole line.</param>
/// <param name="Fields">Its fields, unquoted.</param>
internal sealed record HeadRow(int Line, long Offset, string Raw, string[] Fields)
{
    /// <summary>Whether the line is marked as a comment.</summary>
    internal bool IsComment => Raw.AsSpan().TrimStart() is var text
        && (text.StartsWith("#") || text.StartsWith("//") || text.StartsWith("%"));
}
