namespace PackCare.Core.Samples;

/// <summary>Collects the values of one channel and compresses them a block at a time, so that memory stays flat however long the log is.</summary>
/// <param name="key">What the channel measures.</param>
public sealed class ChannelWriter(ChannelKey key)
{
    private readonly List<SampleBlock> _blocks = [];
    private long[] _pending = new long[256];
    private int _count;
    private int _decimals;

    /// <summary>How many values were appended so far.</summary>
    public int Count { get; private set; }

    /// <summary>Appends one reading.</summary>
    /// <param name="scaled">The reading times 10^<paramref name="decimals"/>.</param>
    /// <param name="decimals">0 to <see cref="BlockCodec.MaxDecimals"/>; may differ from value to value.</param>
    /// <returns>False, with nothing appended, when the digits do not fit together in 64 bits.</returns>
    public bool TryAppend(long scaled, int decimals)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(decimals);
        if (decimals > BlockCodec.MaxDecimals || scaled == BlockCodec.Missing)
        {
            return false;
        }

        if (decimals > _decimals)
        {
            if (!TryRescale(_pending.AsSpan(0, _count), decimals - _decimals))
            {
                return false;
            }

            _decimals = decimals;
        }
        else if (!TryRescale(new Span<long>(ref scaled), _decimals - decimals))
        {
            return false;
        }

        Push(scaled);
        return true;
    }

    /// <summary>Appends "no reading".</summary>
    public void AppendMissing() => Push(BlockCodec.Missing);

    /// <summary>Closes the channel; the writer is not to be used afterwards.</summary>
    public Channel ToChannel()
    {
        Flush();
        return new Channel(key, _blocks);
    }

    private static bool TryRescale(Span<long> values, int steps)
    {
        if (steps == 0)
        {
            return true;
        }

        long factor = 1;
        for (int i = 0; i < steps; i++)
        {
            factor *= 10;
        }

        foreach (long value in values)
        {
            if (value != BlockCodec.Missing && (value > long.MaxValue / factor || value < -(long.MaxValue / factor)))
            {
                return false;
            }
        }

        foreach (ref long value in values)
        {
            if (value != BlockCodec.Missing)
            {
                value *= factor;
            }
        }

        return true;
    }

    private void Push(long scaled)
    {
        if (_count == _pending.Length)
        {
            Array.Resize(ref _pending, Math.Min(_pending.Length * 4, Channel.BlockRows));
        }

        _pending[_count++] = scaled;
        Count++;
        if (_count == Channel.BlockRows)
        {
            Flush();
        }
    }

    private void Flush()
    {
        if (_count == 0)
        {
            return;
        }

        _blocks.Add(BlockCodec.Encode(_pending.AsSpan(0, _count), _decimals));
        _count = 0;
        _decimals = 0;
    }
}
