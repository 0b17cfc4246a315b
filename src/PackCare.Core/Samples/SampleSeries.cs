namespace PackCare.Core.Samples;

/// <summary>The samples of one session: one channel a measured quantity, all of the same length, in order of time.</summary>
public sealed class SampleSeries
{
    private readonly Dictionary<ChannelKey, Channel> _channels;

    /// <summary>Puts channels together.</summary>
    /// <param name="channels">Among them <see cref="ChannelKey.Time"/> and cells numbered from 1 without a hole.</param>
    /// <exception cref="ArgumentException">Lengths differ, a key comes twice, there is no time, or a cell number is skipped.</exception>
    public SampleSeries(IEnumerable<Channel> channels)
    {
        _channels = channels.ToDictionary(channel => channel.Key);
        if (!_channels.TryGetValue(ChannelKey.Time, out Channel? time))
        {
            throw new ArgumentException("Samples need a time channel.", nameof(channels));
        }

        Count = time.Count;
        if (_channels.Values.FirstOrDefault(channel => channel.Count != Count) is { } odd)
        {
            throw new ArgumentException($"{odd.Key} has {odd.Count} values where time has {Count}.", nameof(channels));
        }

        CellCount = _channels.Keys.Count(key => key.Kind == ChannelKind.CellVoltage);
        for (int cell = 1; cell <= CellCount; cell++)
        {
            if (!_channels.ContainsKey(ChannelKey.Cell(cell)))
            {
                throw new ArgumentException($"Cell {cell} of {CellCount} has no channel.", nameof(channels));
            }
        }
    }

    /// <summary>How many samples (rows).</summary>
    public int Count { get; }

    /// <summary>How many cells in series have a voltage channel; 0 when only the pack was logged.</summary>
    public int CellCount { get; }

    /// <summary>All channels in order of kind and index.</summary>
    public IEnumerable<Channel> Channels => _channels.Values.OrderBy(channel => channel.Key.Kind).ThenBy(channel => channel.Key.Index);

    /// <summary>The channel of that key, or null where it was not logged.</summary>
    public Channel? this[ChannelKey key] => _channels.GetValueOrDefault(key);

    /// <summary>Compresses what is only packed yet, on all processors, and lets go of everything else: what is left is what a history stores.</summary>
    public void Compress() => Parallel.ForEach(_channels.Values.SelectMany(channel => channel.Blocks), block => block.Compress());

    /// <summary>Seconds since the session's start, never decreasing.</summary>
    public double[] TimeSeconds() => _channels[ChannelKey.Time].ToDoubles();

    /// <summary>The values of a channel in the unit of its kind with NaN where there was no reading, or null where it was not logged.</summary>
    public double[]? Values(ChannelKey key) => this[key]?.ToDoubles();
}
