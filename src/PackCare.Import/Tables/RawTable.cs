using PackCare.Core.Reading;
using PackCare.Core.Samples;

namespace PackCare.Import.Tables;

/// <summary>A log's table as it was written, and the account of every line around it.</summary>
internal sealed class RawTable
{
    private BlockCursor? _lines;
    private BlockCursor? _lastLines;

    /// <summary>Where it stands.</summary>
    internal required TableFrame Frame { get; init; }

    /// <summary>Its columns.</summary>
    internal required RawColumn[] Columns { get; init; }

    /// <summary>How many rows it has.</summary>
    internal required int Rows { get; init; }

    /// <summary>The line number of each row.</summary>
    internal required IReadOnlyList<SampleBlock> LineBlocks { get; init; }

    /// <summary>The line number at which each row ends, where rows span several lines; else null.</summary>
    internal IReadOnlyList<SampleBlock>? LastLineBlocks { get; init; }

    /// <summary>Rows, from 0, before which the header was repeated.</summary>
    internal required IReadOnlyList<int> Restarts { get; init; }

    /// <summary>Rows right before which a blank line stands; none where rows were put together.</summary>
    internal IReadOnlyList<int> Blanks { get; init; } = [];

    /// <summary>The account of the lines.</summary>
    internal required Ledger Ledger { get; init; }

    /// <summary>Notices, and at most one refusal, found on the way.</summary>
    internal required IReadOnlyList<InputProblem> Problems { get; init; }

    /// <summary>Lines after the table and comments within it, for what they may say about the session.</summary>
    internal required IReadOnlyList<string> Remarks { get; init; }

    /// <summary>What stands around the samples: the lines above the table, below it and the comments within it.</summary>
    internal List<string> Around => [.. Frame.Preamble.Select(row => row.Raw), .. Remarks];

    /// <summary>How much of what is made of the table may stay uncompressed.</summary>
    internal required PackedBudget Budget { get; init; }

    /// <summary>The line number of one row.</summary>
    internal int LineOf(int row) => (int)(_lines ??= new BlockCursor(LineBlocks)).At(row).Scaled;

    /// <summary>The line number at which one row ends.</summary>
    internal int LastLineOf(int row) => LastLineBlocks is null ? LineOf(row) : (int)(_lastLines ??= new BlockCursor(LastLineBlocks)).At(row).Scaled;
}
