using System.Buffers;
using PackCare.Core.Samples;
using PackCare.Import.Meanings;

namespace PackCare.Import.Tables;

/// <summary>
/// Collects the values of one column and packs them a block at a time on another thread, with the figures of
/// each block taken on the way, so that neither text nor values of a long log are ever held at once.
/// </summary>
/// <param name="budget">As far as it reaches, values are packed and not compressed yet.</param>
internal sealed class RawValues(PackedBudget? budget)
{
    private const int FirstRows = 256;
    private const int ShortRows = 4096;
    private const int MostPending = 1;

    private readonly List<Task<(SampleBlock Block, NumberProfile Profile)>> _blocks = [];
    private long[] _pending = new long[FirstRows];
    private int _count;
    private int _decimals;

    /// <summary>The decimals in which values are kept at present.</summary>
    internal int Decimals => _decimals;

    /// <summary>Room for values in those decimals; <see cref="Advance"/> tells how many were put there.</summary>
    /// <param name="most">No more than so many.</param>
    internal Span<long> Room(int most)
    {
        if (_count == _pending.Length)
        {
            Grow();
        }

        return _pending.AsSpan(_count, Math.Min(most, Math.Min(_pending.Length, Channel.BlockRows) - _count));
    }

    /// <summary>Takes in values that were put into <see cref="Room"/>.</summary>
    internal void Advance(int count)
    {
        _count += count;
        if (_count == Channel.BlockRows)
        {
            Flush();
        }
    }

    /// <summary>Appends one value; false, with nothing appended, when the digits do not fit together in 64 bits.</summary>
    internal bool TryAppend(long scaled, int decimals)
    {
        if (decimals != _decimals && !TryAlign(ref scaled, decimals))
        {
            return false;
        }

        Push(scaled);
        return true;
    }

    /// <summary>Appends many values, if it leaves them as they would be when appended one by one.</summary>
    /// <param name="scaled">The values.</param>
    /// <param name="decimals">Their decimals.</param>
    /// <param name="needing">How many of them need all of those decimals.</param>
    internal bool TryAppend(ReadOnlySpan<long> scaled, int decimals, int needing)
    {
        bool isKept = _count > 0 ? decimals == _decimals : needing > 0;
        if (!isKept || (needing < scaled.Length && scaled.Length > Channel.BlockRows - _count))
        {
            return false;
        }

        while (!scaled.IsEmpty)
        {
            _decimals = decimals;
            Span<long> room = Room(scaled.Length);
            scaled[..room.Length].CopyTo(room);
            scaled = scaled[room.Length..];
            Advance(room.Length);
        }

        return true;
    }

    /// <summary>Appends whole numbers, each one more than the one before, to others without decimals.</summary>
    /// <param name="first">The first of them.</param>
    /// <param name="count">How many.</param>
    internal void AppendRun(long first, int count)
    {
        while (count > 0)
        {
            Span<long> room = Room(count);
            for (int i = 0; i < room.Length; i++)
            {
                room[i] = first + i;
            }

            first += room.Length;
            count -= room.Length;
            Advance(room.Length);
        }
    }

    /// <summary>Appends "no reading".</summary>
    internal void AppendMissing() => Push(BlockCodec.Missing);

    /// <summary>Ends the column.</summary>
    internal IReadOnlyList<SampleBlock> Close(out NumberProfile profile)
    {
        if (_count > 0)
        {
            Flush();
        }

        profile = new NumberProfile();
        var blocks = new List<SampleBlock>(_blocks.Count);
        foreach (Task<(SampleBlock Block, NumberProfile Profile)> task in _blocks)
        {
            (SampleBlock block, NumberProfile part) = task.GetAwaiter().GetResult();
            blocks.Add(block);
            profile.Join(part);
        }

        // Whoever lets go of the blocks is the last to hold them.
        _blocks.Clear();
        _pending = [];
        return blocks;
    }

    private bool TryAlign(ref long scaled, int decimals)
    {
        if (decimals < _decimals)
        {
            long factor = Power(_decimals - decimals);
            if (scaled > long.MaxValue / factor || scaled < -(long.MaxValue / factor))
            {
                return false;
            }

            scaled *= factor;
            return true;
        }

        long raise = Power(decimals - _decimals);
        Span<long> pending = _pending.AsSpan(0, _count);
        foreach (long value in pending)
        {
            if (value != BlockCodec.Missing && (value > long.MaxValue / raise || value < -(long.MaxValue / raise)))
            {
                return false;
            }
        }

        foreach (ref long value in pending)
        {
            if (value != BlockCodec.Missing)
            {
                value *= raise;
            }
        }

        _decimals = decimals;
        return true;
    }

    private static long Power(int exponent)
    {
        long power = 1;
        for (int i = 0; i < exponent; i++)
        {
            power *= 10;
        }

        return power;
    }

    private void Push(long scaled)
    {
        if (_count == _pending.Length)
        {
            Grow();
        }

        _pending[_count++] = scaled;
        if (_count == Channel.BlockRows)
        {
            Flush();
        }
    }

    private void Grow()
    {
        // Beyond what a short log needs, room for a block at once: in between it would only be copied again.
        long[] larger = _pending.Length < ShortRows ? new long[ShortRows] : ArrayPool<long>.Shared.Rent(Channel.BlockRows);
        _pending.AsSpan(0, _count).CopyTo(larger);
        _pending = larger;
    }

    private void Flush()
    {
        long[] values = _pending;
        int count = _count;
        int decimals = _decimals;
        if (count < Channel.BlockRows)
        {
            _blocks.Add(Task.FromResult(Finish(values, count, decimals)));
            return;
        }

        // The reader must not run far ahead of the packer.
        if (_blocks.Count >= MostPending)
        {
            _blocks[^MostPending].Wait();
        }

        _blocks.Add(Task.Run(() => Finish(values, count, decimals)));
        _pending = ArrayPool<long>.Shared.Rent(Channel.BlockRows);
        _count = 0;
        _decimals = 0;
    }

    private (SampleBlock Block, NumberProfile Profile) Finish(long[] values, int count, int decimals)
    {
        ReadOnlySpan<long> span = values.AsSpan(0, count);
        NumberProfile profile = NumberProfile.Of(span, decimals);
        SampleBlock block = BlockCodec.Encode(span, decimals, budget);
        if (values.Length >= Channel.BlockRows)
        {
            ArrayPool<long>.Shared.Return(values);
        }

        return (block, profile);
    }
}
