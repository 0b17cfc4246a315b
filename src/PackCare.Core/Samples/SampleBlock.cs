namespace PackCare.Core.Samples;

/// <summary>
/// A run of at most <see cref="Channel.BlockRows"/> consecutive values of one channel, compressed by <see cref="BlockCodec"/>; fresh from
/// a log it may be packed only, and is then compressed when its bytes are first asked for.
/// </summary>
public sealed class SampleBlock
{
    private readonly int _decimals;
    private byte[]? _encoded;
    private byte[]? _packed;

    /// <summary>A block that was compressed before.</summary>
    /// <param name="count">How many values, missing ones included; 1 to <see cref="Channel.BlockRows"/>.</param>
    /// <param name="encoded">The bytes.</param>
    public SampleBlock(int count, byte[] encoded) => (Count, _encoded) = (count, encoded);

    /// <summary>A block that is packed and not compressed yet.</summary>
    internal SampleBlock(int count, int decimals, byte[] packed) => (Count, _decimals, _packed) = (count, decimals, packed);

    /// <summary>How many values, missing ones included.</summary>
    public int Count { get; }

    /// <summary>The bytes; self-describing, and the same for the same values on every machine.</summary>
    public ReadOnlyMemory<byte> Encoded => _encoded ??= BlockCodec.Compress(_packed!, _decimals);

    /// <summary>Compresses the values, if they are not, and keeps nothing else.</summary>
    public void Compress()
    {
        _ = Encoded;
        _packed = null;
    }

    /// <summary>The values packed and not compressed, with their decimals, where they are at hand.</summary>
    internal bool TryGetPacked(out ReadOnlyMemory<byte> packed, out int decimals)
    {
        byte[]? atHand = _packed;
        (packed, decimals) = (atHand, _decimals);
        return atHand is not null;
    }

    /// <summary>The same values with other decimals; null where only their compressed bytes are at hand.</summary>
    internal SampleBlock? WithDecimals(int decimals) => _packed is { } packed ? new SampleBlock(Count, decimals, packed) : null;
}
