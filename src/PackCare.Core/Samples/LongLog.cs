namespace PackCare.Core.Samples;

/// <summary>
/// Keeps memory flat while a log of many millions of rows is taken in. What it was read through is garbage by the time its sessions are
/// made, and the collector would let that lie until there is as much again.
/// </summary>
public static class LongLog
{
    private const int Rows = 2_000_000;
    private const int PackedBytes = 16 << 20;
    private const int PackedBytesOfLong = 2 << 20;

    /// <summary>How much of a log may stay uncompressed: nearly all of most of them. Of a long one it would be a small part, and memory is short.</summary>
    /// <param name="rows">How many rows the log has, or somewhat more.</param>
    public static PackedBudget Budget(int rows) => new(rows >= Rows ? PackedBytesOfLong : PackedBytes);

    /// <summary>Lets go of garbage now, if the log is long; of others there is too little to be worth the time.</summary>
    /// <param name="rows">How many rows the log has.</param>
    public static void Sweep(int rows)
    {
        if (rows >= Rows)
        {
            GC.Collect(GC.MaxGeneration, GCCollectionMode.Forced, blocking: true, compacting: false);
        }
    }
}
