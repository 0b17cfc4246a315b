using System.IO.Enumeration;
using PackCare.Core.Reading;

namespace PackCare.Import.Guides;

/// <summary>
/// Fixes a reading, or any part of it, for one kind of log. What it leaves open is proved as ever, and what it says still
/// has to be possible: a guide decides between readings, it does not make a wrong one right.
/// </summary>
public sealed record ReadingGuide
{
    /// <summary>What the guide is for, in the user's words.</summary>
    public string? Name { get; init; }

    /// <summary>File names it applies to by itself, with * and ?; null to leave that to <see cref="Headers"/>.</summary>
    public string? FileName { get; init; }

    /// <summary>The headers, in order, of the logs it applies to by itself; null for any.</summary>
    public IReadOnlyList<string?>? Headers { get; init; }

    /// <summary>Text encoding by its IANA name: utf-8, utf-16le, utf-16be or windows-1252; null to find out.</summary>
    public string? Encoding { get; init; }

    /// <summary>The character between fields, a blank for runs of blanks; null to find out.</summary>
    public char? Delimiter { get; init; }

    /// <summary>Point or comma; null to find out.</summary>
    public char? DecimalMark { get; init; }

    /// <summary>Whether the day comes before the month in dates that could be read either way; null to find out.</summary>
    public bool? DayFirst { get; init; }

    /// <summary>Whether a positive current charges the pack; null to find out.</summary>
    public bool? ChargingIsPositive { get; init; }

    /// <summary>Zone of times without an offset, by its IANA name; null for the reader's option.</summary>
    public string? Zone { get; init; }

    /// <summary>The pack whose logs these are; null to find out.</summary>
    public string? Pack { get; init; }

    /// <summary>What columns mean; columns that are not named are left to proof.</summary>
    public IReadOnlyList<GuideColumn> Columns { get; init; } = [];

    /// <summary>Whether the guide applies by itself to a log.</summary>
    /// <param name="fileName">The log's file name without folders.</param>
    /// <param name="reading">What the log was understood to mean without a guide; null where that failed.</param>
    public bool AppliesTo(string fileName, LogReading? reading)
    {
        if (FileName is null && Headers is null)
        {
            return false;
        }

        return (FileName is null || FileSystemName.MatchesSimpleExpression(FileName, fileName))
            && (Headers is null || (reading is not null && Headers.SequenceEqual(reading.Columns.Select(column => column.Header), StringComparer.Ordinal)));
    }

    /// <summary>Writes down a reading as a guide to edit.</summary>
    /// <param name="reading">The reading.</param>
    /// <param name="fileName">The file name it came from, which the guide is to apply to.</param>
    /// <param name="refusal">Why the log was refused, or null. A guide for such a log leaves open what was not proved.</param>
    public static ReadingGuide Of(LogReading reading, string fileName, InputProblem? refusal = null)
    {
        ArgumentNullException.ThrowIfNull(reading);
        bool hasHeader = reading.Columns.Any(column => column.Header is not null);
        return new ReadingGuide
        {
            Name = $"logs like {fileName}",
            FileName = hasHeader ? null : fileName,
            Headers = hasHeader ? [.. reading.Columns.Select(column => column.Header)] : null,
            Encoding = reading.Encoding == "us-ascii" ? null : reading.Encoding,
            Delimiter = refusal?.Code == "ambiguous-delimiter" ? null : reading.Delimiter,
            DecimalMark = refusal?.Code is "ambiguous-delimiter" or "ambiguous-decimal" ? null : reading.DecimalMark,
            Columns = [.. reading.Columns.Where(column => refusal is null || column.Meaning != ColumnMeaning.Ignored).Select(column => new GuideColumn(column.Index, column.Header, column.Meaning, column.Unit, column.Cell))],
        };
    }
}
