using PackCare.Core.Samples;

namespace PackCare.Import.Tables;

/// <summary>A table with its rows in another order; each keeps the number of its line.</summary>
internal static class SortedRows
{
    /// <summary>Puts the rows of a table in order.</summary>
    /// <param name="table">The table.</param>
    /// <param name="order">Which of its rows comes at each place.</param>
    /// <param name="restarts">Before which places a header stood.</param>
    /// <param name="blanks">Before which places a blank line stood.</param>
    internal static RawTable Of(RawTable table, int[] order, IReadOnlyList<int> restarts, IReadOnlyList<int>? blanks = null)
    {
        return new RawTable
        {
            Frame = table.Frame,
            Columns = [.. table.Columns.Select(column => column.Shape == ColumnShape.Time
                ? column.WithTimes(InOrder(column.Values), InOrder(column.Dates), InOrder(column.Offsets))
                : column.With(column.Header, InOrder(column.Values)))],
            Rows = table.Rows,
            LineBlocks = InOrder(table.LineBlocks),
            Restarts = restarts,
            Blanks = blanks ?? [],
            Ledger = table.Ledger,
            Problems = table.Problems,
            Remarks = table.Remarks,
            Budget = table.Budget,
        };

        IReadOnlyList<SampleBlock> InOrder(IReadOnlyList<SampleBlock> blocks)
        {
            (long Value, int Decimals)[] values = Decoded(blocks);
            var writer = new ChannelWriter(ChannelKey.Time, table.Budget);
            foreach (int row in order)
            {
                if (values[row].Value == BlockCodec.Missing || !writer.TryAppend(values[row].Value, values[row].Decimals))
                {
                    writer.AppendMissing();
                }
            }

            return writer.ToChannel().Blocks;
        }
    }

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
}
