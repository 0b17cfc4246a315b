using System.Buffers;

namespace PackCare.Core.Samples;

/// <summary>Collects the values of one channel and compresses them a block at a time, so that memory stays flat however long the log is.</summary>
/// <param name="key">What the channel measures.</param>
/// <param name="budget">As far as it reaches, blocks are packed and not compressed yet; null for all of them compressed.</param>
public sealed class ChannelWriter(ChannelKey key, PackedBudget? budget = null)
{
    private const int FirstRows = 256;

    private readonly List<SampleBlock> _blocks = [];
    private long[] _pending = [];
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

    /// <summary>Appends many readings at once.</summary>
    /// <param name="scaled">Readings times 10^<paramref name="decimals"/>, or <see cref="BlockCodec.Missing"/> for none.</param>
    /// <param name="decimals">0 to <see cref="BlockCodec.MaxDecimals"/>; the same for all of them.</param>
    /// <returns>False when the digits of one do not fit with the others in 64 bits; the channel is then of no use.</returns>
    public bool TryAppend(ReadOnlySpan<long> scaled, int decimals)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(decimals);
        while (!scaled.IsEmpty)
        {
            if (scaled.Length >= Channel.BlockRows && TryEncode(scaled[..Channel.BlockRows], decimals))
            {
                scaled = scaled[Channel.BlockRows..];
                continue;
            }

            // An empty block takes over the decimals as they are; where they agree, readings are copied as they are.
            _decimals = _count == 0 && decimals <= BlockCodec.MaxDecimals ? decimals : _decimals;
            int room = Math.Min(scaled.Length, Channel.BlockRows - _count);
            if (decimals == _decimals)
            {
                Reserve(room);
                scaled[..room].CopyTo(_pending.AsSpan(_count));
                Advance(room);
            }
            else
            {
                foreach (long value in scaled[..room])
                {
                    if (value == BlockCodec.Missing)
                    {
                        AppendMissing();
                    }
                    else if (!TryAppend(value, decimals))
                    {
                        return false;
                    }
                }
            }

            scaled = scaled[room..];
        }

        return true;
    }

    /// <summary>Appends "no reading".</summary>
    public void AppendMissing() => Push(BlockCodec.Missing);

    /// <summary>Appends the last readings and closes the channel; where they are all there are of a block, they are not copied first.</summary>
    /// <param name="scaled">Readings times 10^<paramref name="decimals"/>, or <see cref="BlockCodec.Missing"/> for none.</param>
    /// <param name="decimals">0 to <see cref="BlockCodec.MaxDecimals"/>; the same for all of them.</param>
    /// <returns>Null when the digits of one do not fit with the others in 64 bits.</returns>
    public Channel? TryClose(ReadOnlySpan<long> scaled, int decimals)
    {
        int whole = _count > 0 ? 0 : scaled.Length / Channel.BlockRows * Channel.BlockRows;
        return TryAppend(scaled[..whole], decimals) && (TryEncode(scaled[whole..], decimals) || TryAppend(scaled[whole..], decimals)) ? ToChannel() : null;
    }

    /// <summary>Closes the channel; the writer is not to be used afterwards.</summary>
    public Channel ToChannel()
    {
        Flush();
        GiveBack();
        return new Channel(key, _blocks);
    }

    private void GiveBack()
    {
        if (_pending.Length > 0)
        {
            ArrayPool<long>.Shared.Return(_pending);
            _pending = [];
        }
    }

    // Makes a block of readings as they are, if no others wait for theirs.
    private bool TryEncode(ReadOnlySpan<long> scaled, int decimals)
    {
        if (_count > 0 || scaled.Length is 0 or > Channel.BlockRows || decimals > BlockCodec.MaxDecimals)
        {
            return false;
        }

        _blocks.Add(BlockCodec.Encode(scaled, decimals, budget));
        Count += scaled.Length;
        return true;
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
        Reserve(1);
        _pending[_count] = scaled;
        Advance(1);
    }

    private void Reserve(int more)
    {
        if (_count + more > _pending.Length)
        {
            long[] larger = ArrayPool<long>.Shared.Rent(Math.Clamp(Math.Max(_pending.Length * 4, _count + more), FirstRows, Channel.BlockRows));
            _pending.AsSpan(0, _count).CopyTo(larger);
            GiveBack();
            _pending = larger;
        }
    }

    private void Advance(int by)
    {
        _count += by;
        Count += by;
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

        _blocks.Add(BlockCodec.Encode(_pending.AsSpan(0, _count), _decimals, budget));
        _count = 0;
        _decimals = 0;
    }
}
