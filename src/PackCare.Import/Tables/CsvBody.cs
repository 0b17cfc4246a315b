using CsvHelper;

namespace PackCare.Import.Tables;

/// <summary>Sets the CSV reader strict: its own defaults repair damage in silence, which a log must never suffer.</summary>
internal static class CsvBody
{
    /// <summary>The largest record, in bytes; a longer line is no log's.</summary>
    internal const int MaxRecordBytes = 1 << 20;

    /// <summary>Options for one delimiter.</summary>
    /// <param name="delimiter">The delimiter.</param>
    /// <param name="quote">What stands around quoted fields.</param>
    /// <param name="hasQuotes">Whether quotes occur, so that blanks before them have to be passed over; the reader is faster without.</param>
    /// <param name="malformed">Told of each record that breaks the quoting rules.</param>
    internal static CsvReaderOptions Options(char delimiter, char quote, bool hasQuotes, Action<CsvMalformedRecord> malformed) => new()
    {
        Separator = delimiter,
        Quote = quote,
        HasHeader = false,
        Mode = CsvMode.Rfc4180,
        AllowLineBreaksInQuotes = false,
        SkipEmptyLines = true,
        TrimWhitespace = hasQuotes && delimiter != ' ',
        TrackLineNumbers = true,
        DetectSeparatorHint = false,
        MalformedData = CsvMalformedDataHandling.Recover,
        FieldCountMismatch = CsvFieldCountHandling.Allow,
        MissingField = CsvMissingFieldHandling.Throw,
        MaxRecordSize = MaxRecordBytes,
        BufferSize = 1 << 17,
        OnMalformedRecord = malformed,
    };
}
