using PackCare.Core.Samples;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Puts a table that has all rows of one cell, then all of the next, into the order of time.</summary>
internal static class CellByCell
{
    /// <summary>The table with rows of one moment side by side; null where it is in another order, or the cells have unlike times.</summary>
    /// <param name="table">The table as written.</param>
    /// <param name="cellColumn">Position in the table of the column that numbers the cells.</param>
    /// <param name="timeColumn">Position in the table of the column that tells the time.</param>
    internal static RawTable? MomentByMoment(RawTable table, int cellColumn, int timeColumn)
    {
        if (table.Restarts.Count > 0 || table.LastLineBlocks is not null)
        {
            return null;
        }

        int length = RunLength(table.Columns[cellColumn]);
        if (length < 2 || !SameInAllRuns(table.Columns[timeColumn].Values, length)
            || (table.Columns[timeColumn].Shape == ColumnShape.Time && !SameInAllRuns(table.Columns[timeColumn].Dates, length)))
        {
            return null;
        }

        return new RawTable
        {
            Frame = table.Frame,
            Columns = [.. table.Columns.Select(column => column.Shape == ColumnShape.Time
                ? column.WithTimes(Sorted(column.Values), Sorted(column.Dates), Sorted(column.Offsets))
                : column.With(column.Header, Sorted(column.Values)))],
            Rows = table.Rows,
            LineBlocks = Sorted(table.LineBlocks),
            Restarts = table.Restarts,
            Ledger = table.Ledger,
            Problems = table.Problems,
            Remarks = table.Remarks,
            Budget = table.Budget,
        };

        IReadOnlyList<SampleBlock> Sorted(IReadOnlyList<SampleBlock> blocks) => SortedRuns(blocks, length, table.Budget);
    }

    // The rows of each cell, where all cells have as many, in one piece each; 0 otherwise.
    private static int RunLength(RawColumn cells)
    {
        (long Value, int Decimals)[] values = Decoded(cells.Values);
        int length = Array.FindIndex(values, value => value != values[0]);
        if (length < 1 || values.Length % length != 0)
        {
            return 0;
        }

        var seen = new HashSet<long>();
        for (int run = 0; run < values.Length; run += length)
        {
            if (!seen.Add(values[run].Value) || values.AsSpan(run, length).IndexOfAnyExcept(values[run]) >= 0)
            {
                return 0;
            }
        }

        return length;
    }

    private static bool SameInAllRuns(IReadOnlyList<SampleBlock> blocks, int length)
    {
        (long Value, int Decimals)[] values = Decoded(blocks);
        for (int row = length; row < values.Length; row++)
        {
            (long a, int aDecimals) = values[row];
            (long b, int bDecimals) = values[row - length];
            if ((a == BlockCodec.Missing) != (b == BlockCodec.Missing) || (decimal)a / Power(aDecimals) != (decimal)b / Power(bDecimals))
            {
                return false;
            }
        }

        return true;
    }

    private static decimal Power(int decimals) => (decimal)Math.Pow(10, decimals);

    private static (long Value, int Decimals)[] Decoded(IReadOnlyList<SampleBlock> blocks)
    {
        var values = new (long, int)[blocks.Sum(block => block.Count)];
        long[] scaled = new long[Channel.BlockRows];
        int row = 0;
        foreach (SampleBlock block in blocks)
        {
            int decimals = BlockCodec.Decode(block, scaled);
            for (int i = 0; i < block.Count; i++)
            {
                values[row++] = (scaled[i], decimals);
            }
        }

        return values;
    }

    private static IReadOnlyList<SampleBlock> SortedRuns(IReadOnlyList<SampleBlock> blocks, int length, PackedBudget budget)
    {
        (long Value, int Decimals)[] values = Decoded(blocks);
        var writer = new ChannelWriter(ChannelKey.Time, budget);
        for (int moment = 0; moment < length; moment++)
        {
            for (int row = moment; row < values.Length; row += length)
            {
                if (values[row].Value == BlockCodec.Missing || !writer.TryAppend(values[row].Value, values[row].Decimals))
                {
                    writer.AppendMissing();
                }
            }
        }

        return writer.ToChannel().Blocks;
    }
}
