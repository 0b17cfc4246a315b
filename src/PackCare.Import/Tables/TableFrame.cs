namespace PackCare.Import.Tables;

/// <summary>Where a log's table stands: its width, its header, and the first of its rows.</summary>
internal sealed class TableFrame
{
    /// <summary>How many fields a row has.</summary>
    internal required int Width { get; init; }

    /// <summary>Line number of the first row.</summary>
    internal required int FirstLine { get; init; }

    /// <summary>Line number of the last line before the first row that is not blank; 0 for none.</summary>
    internal required int LineBefore { get; init; }

    /// <summary>Where the first row starts, in bytes of the UTF-8 form.</summary>
    internal required long FirstOffset { get; init; }

    /// <summary>Whether quotes occur in the log's beginning.</summary>
    internal required bool HasQuotes { get; init; }

    /// <summary>The header of each column; null where there is none.</summary>
    internal required string?[] Headers { get; init; }

    /// <summary>The unit row's fields; null where there is none.</summary>
    internal required string?[] Units { get; init; }

    /// <summary>The header and unit lines as they stand, so that a repeated one is known again.</summary>
    internal required IReadOnlyList<string> HeaderTexts { get; init; }

    /// <summary>How many lines make the header.</summary>
    internal required int HeaderLines { get; init; }

    /// <summary>How many lines give units.</summary>
    internal required int UnitLines { get; init; }

    /// <summary>Lines before the table, blank ones left out.</summary>
    internal required IReadOnlyList<HeadRow> Preamble { get; init; }

    /// <summary>How many lines those are.</summary>
    internal required int PreambleLines { get; init; }

    /// <summary>How many blank lines stand before the first row.</summary>
    internal required int BlankLines { get; init; }

    /// <summary>What each column looks like in the log's beginning.</summary>
    internal required ColumnShape[] Shapes { get; init; }

    /// <summary>How the fields of a column hold several numbers; null where they hold one value.</summary>
    internal required ListForm?[] Lists { get; init; }

    /// <summary>The unit that stands behind each value of a column, as written; null where values stand alone.</summary>
    internal required string?[] ValueUnits { get; init; }

    /// <summary>The column, from 0, that tells a row from other lines: the first that holds numbers or times throughout.</summary>
    internal required int KeyColumn { get; init; }

    /// <summary>Whether a header was found.</summary>
    internal bool HasHeader => HeaderLines > 0;
}
