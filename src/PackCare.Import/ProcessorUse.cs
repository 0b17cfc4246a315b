namespace PackCare.Import;

/// <summary>
/// Lets what is done beside the reading of a log give way while the reading keeps all processors busy by itself: most of the time it
/// does not, and then both go on at once.
/// </summary>
public sealed class ProcessorUse : IDisposable
{
    private readonly ManualResetEventSlim _spare = new(initialState: true);

    /// <summary>Waits, if need be, until a processor is to spare.</summary>
    public void WaitForSpare() => _spare.Wait();

    /// <inheritdoc/>
    public void Dispose() => _spare.Dispose();

    /// <summary>From here on all processors are in use.</summary>
    internal void TakeAll() => _spare.Reset();

    /// <summary>From here on one is to spare.</summary>
    internal void LeaveOne() => _spare.Set();
}
