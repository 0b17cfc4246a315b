using PackCare.Core.Samples;

namespace PackCare.Import.Tables;

/// <summary>Single values of a column, asked for roughly in order: the block they lie in is restored once. For one thread.</summary>
/// <param name="blocks">The column.</param>
internal sealed class BlockCursor(IReadOnlyList<SampleBlock> blocks)
{
    private long[] _scaled = [];
    private int _block = -1;
    private int _decimals;

    /// <summary>The value of one row, from 0, and its decimals.</summary>
    internal (long Scaled, int Decimals) At(int row)
    {
        int block = row / Channel.BlockRows;
        if (block != _block)
        {
            if (_scaled.Length == 0)
            {
                _scaled = new long[blocks.Max(one => one.Count)];
            }

            _decimals = BlockCodec.Decode(blocks[block], _scaled);
            _block = block;
        }

        return (_scaled[row % Channel.BlockRows], _decimals);
    }

    /// <summary>The value of one row, from 0, as a fraction; NaN where there is no reading.</summary>
    internal double ValueAt(int row) => At(row) is (long scaled, int decimals) && scaled != BlockCodec.Missing ? scaled / Math.Pow(10, decimals) : double.NaN;
}
