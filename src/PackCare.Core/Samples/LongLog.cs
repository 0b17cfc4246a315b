namespace PackCare.Core.Samples;

/// <summary>
/// Keeps memory flat while a log of many millions of rows is taken in: what it was read through is garbage by the time its sessions are
/// made, and the collector would let that lie until there is as much again.
/// </summary>
public static class LongLog
{
    private const int Rows = 2_000_000;

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
