namespace PackCare.Core.Samples;

/// <summary>
/// How many bytes of packed values may stay in memory uncompressed while a log is read: they are restored several times over, and
/// without decompression that takes a third of the time. Once it is used up, blocks are compressed as they come. For any thread.
/// </summary>
/// <param name="mostBytes">The most bytes.</param>
public sealed class PackedBudget(int mostBytes)
{
    private long _bytes;

    /// <summary>Takes so many bytes; false where they are not to be had.</summary>
    public bool TryTake(int bytes)
    {
        if (Interlocked.Add(ref _bytes, bytes) <= mostBytes)
        {
            return true;
        }

        Interlocked.Add(ref _bytes, -bytes);
        return false;
    }

    /// <summary>Gives back what blocks took that are no longer used.</summary>
    public void GiveBack(IReadOnlyList<SampleBlock> blocks)
    {
        foreach (SampleBlock block in blocks)
        {
            if (block.TryGetPacked(out ReadOnlyMemory<byte> packed, out _))
            {
                Interlocked.Add(ref _bytes, -packed.Length);
            }
        }
    }
}
