namespace PackCare.Core.Samples;

/// <summary>All values of one channel of a session, kept compressed and exact to the digits that were logged.</summary>
/// <param name="Key">What it measures.</param>
/// <param name="Blocks">The values in order; every block but the last holds <see cref="BlockRows"/> of them.</param>
public sealed record Channel(ChannelKey Key, IReadOnlyList<SampleBlock> Blocks)
{
    /// <summary>How many values a full block holds.</summary>
    public const int BlockRows = 65_536;

    /// <summary>How many values there are, missing ones included.</summary>
    public int Count => Blocks.Sum(block => block.Count);

    /// <summary>The values in the unit of the kind; NaN where there was no reading.</summary>
    /// <exception cref="InvalidDataException">A block is damaged.</exception>
    public double[] ToDoubles()
    {
        var values = new double[Count];
        int at = 0;
        for (int block = 0; block < Blocks.Count; block++)
        {
            ReadBlock(block, values.AsSpan(at));
            at += Blocks[block].Count;
        }

        return values;
    }

    /// <summary>The values of one block in the unit of the kind; NaN where there was no reading.</summary>
    /// <param name="block">The block, from 0.</param>
    /// <param name="into">Receives them; at least as long as the block.</param>
    /// <exception cref="InvalidDataException">The block is damaged.</exception>
    public void ReadBlock(int block, Span<double> into) => BlockCodec.Decode(Blocks[block], 1, into);

    /// <summary>The values as exact decimal figures; null where there was no reading. For export and comparison, not for arithmetic over long sessions.</summary>
    /// <exception cref="InvalidDataException">A block is damaged.</exception>
    public IEnumerable<decimal?> ToDecimals()
    {
        foreach (SampleBlock block in Blocks)
        {
            var scaled = new long[block.Count];
            int decimals = BlockCodec.Decode(block, scaled);
            decimal unit = new(1, 0, 0, false, (byte)decimals);
            foreach (long value in scaled)
            {
                yield return value == BlockCodec.Missing ? null : value * unit;
            }
        }
    }
}
