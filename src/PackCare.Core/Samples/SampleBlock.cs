namespace PackCare.Core.Samples;

/// <summary>A run of at most <see cref="Channel.BlockRows"/> consecutive values of one channel, compressed by <see cref="BlockCodec"/>.</summary>
/// <param name="Count">How many values, missing ones included; 1 to <see cref="Channel.BlockRows"/>.</param>
/// <param name="Encoded">The bytes; self-describing, and the same for the same values on every machine.</param>
public sealed record SampleBlock(int Count, ReadOnlyMemory<byte> Encoded)
{
    /// <summary>The same values packed and not compressed, where somebody asked to keep them at hand; null otherwise.</summary>
    internal byte[]? Packed { get; init; }
}
