namespace PackCare.Core.Reading;

/// <summary>What the importer understood a file to mean.</summary>
/// <param name="Delimiter">The character between fields; a run of blanks is given as one blank.</param>
/// <param name="DecimalMark">The decimal mark.</param>
/// <param name="Encoding">Name of the text encoding, as IANA registers it.</param>
/// <param name="Layout">How cells are laid out.</param>
/// <param name="TimeBase">How time is given, in words ("elapsed seconds", "ISO 8601 with offset").</param>
/// <param name="Columns">One a column, in order.</param>
/// <param name="Reasons">Why this reading and no other, in plain words.</param>
public sealed record LogReading(
    char Delimiter,
    char DecimalMark,
    string Encoding,
    LogLayout Layout,
    string TimeBase,
    IReadOnlyList<ColumnReading> Columns,
    IReadOnlyList<string> Reasons);
