using System.Buffers;
using System.IO.Compression;

namespace PackCare.Core.Samples;

/// <summary>
/// Packs decimal readings without loss: each value is a whole number of units of the block's last decimal
/// place, written as the zig-zag varint of its difference to the one before, then Brotli-compressed.
/// Not a general container: no name, no checksum (the history keeps one beside the bytes).
/// </summary>
/// <remarks>
/// Layout of version 1: byte 0 the version; byte 1 the number of decimals; then the Brotli stream of
/// varint(count), varint(bytes of the missing map or 0), the missing map (bit set = missing, least
/// significant bit first), and one varint for each value that is present.
/// </remarks>
public static class BlockCodec
{
    /// <summary>Stands for "no reading" among scaled values.</summary>
    public const long Missing = long.MinValue;

    /// <summary>The most decimals a block can carry; 15 keeps every logged double digit.</summary>
    public const int MaxDecimals = 15;

    private const byte Version = 1;
    private const int BrotliQuality = 1;
    private const int BrotliWindow = 18;
    private const int MaxVarintBytes = 10;

    /// <summary>Compresses one run of values.</summary>
    /// <param name="scaled">Values times 10^<paramref name="decimals"/>, or <see cref="Missing"/>.</param>
    /// <param name="decimals">0 to <see cref="MaxDecimals"/>.</param>
    public static SampleBlock Encode(ReadOnlySpan<long> scaled, int decimals)
    {
        ArgumentOutOfRangeException.ThrowIfZero(scaled.Length);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(scaled.Length, Channel.BlockRows);
        ArgumentOutOfRangeException.ThrowIfNegative(decimals);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(decimals, MaxDecimals);

        int mapBytes = scaled.Contains(Missing) ? (scaled.Length + 7) / 8 : 0;
        byte[] plain = ArrayPool<byte>.Shared.Rent((2 * MaxVarintBytes) + mapBytes + (scaled.Length * MaxVarintBytes));
        byte[] packed = ArrayPool<byte>.Shared.Rent(2 + BrotliEncoder.GetMaxCompressedLength(plain.Length));
        try
        {
            int at = WriteVarint(plain, 0, (ulong)scaled.Length);
            at = WriteVarint(plain, at, (ulong)mapBytes);
            Span<byte> map = plain.AsSpan(at, mapBytes);
            map.Clear();
            at += mapBytes;
            long previous = 0;
            for (int i = 0; i < scaled.Length; i++)
            {
                long value = scaled[i];
                if (value == Missing)
                {
                    map[i >> 3] |= (byte)(1 << (i & 7));
                    continue;
                }

                long difference = unchecked(value - previous);
                at = WriteVarint(plain, at, (ulong)((difference << 1) ^ (difference >> 63)));
                previous = value;
            }

            packed[0] = Version;
            packed[1] = (byte)decimals;
            if (!BrotliEncoder.TryCompress(plain.AsSpan(0, at), packed.AsSpan(2), out int written, BrotliQuality, BrotliWindow))
            {
                throw new InvalidOperationException("The compressor was given a buffer of its own stated size and did not fit it.");
            }

            return new SampleBlock(scaled.Length, packed.AsSpan(0, written + 2).ToArray());
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(plain);
            ArrayPool<byte>.Shared.Return(packed);
        }
    }

    /// <summary>Restores the values of a block.</summary>
    /// <param name="block">A block made by <see cref="Encode"/>.</param>
    /// <param name="scaled">Receives the values, at least as long as the block's count.</param>
    /// <returns>The number of decimals that scale the values.</returns>
    /// <exception cref="InvalidDataException">The bytes are not a block: damaged, cut, or of a later version.</exception>
    public static int Decode(SampleBlock block, Span<long> scaled)
    {
        ReadOnlySpan<byte> bytes = block.Encoded.Span;
        if (bytes.Length < 3 || bytes[0] != Version || bytes[1] > MaxDecimals || block.Count is < 1 or > Channel.BlockRows)
        {
            throw Damaged();
        }

        int bound = (2 * MaxVarintBytes) + ((block.Count + 7) / 8) + (block.Count * MaxVarintBytes);
        byte[] plain = ArrayPool<byte>.Shared.Rent(bound);
        try
        {
            if (!BrotliDecoder.TryDecompress(bytes[2..], plain.AsSpan(0, bound), out int length))
            {
                throw Damaged();
            }

            Unpack(plain.AsSpan(0, length), scaled[..block.Count]);
            return bytes[1];
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(plain);
        }
    }

    /// <summary>The same digits with the decimal mark moved to the left: millivolts become volts without touching a digit.</summary>
    /// <param name="block">A block made by <see cref="Encode"/>.</param>
    /// <param name="places">How many places to move, 0 or more.</param>
    /// <returns>The block, or null where it would need more than <see cref="MaxDecimals"/>.</returns>
    public static SampleBlock? Shift(SampleBlock block, int places)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(places);
        if (places == 0)
        {
            return block;
        }

        byte[] bytes = block.Encoded.ToArray();
        if (bytes.Length < 3 || bytes[1] + places > MaxDecimals)
        {
            return null;
        }

        bytes[1] += (byte)places;
        return block with { Encoded = bytes };
    }

    private static void Unpack(ReadOnlySpan<byte> plain, Span<long> scaled)
    {
        int at = 0;
        ulong count = ReadVarint(plain, ref at);
        ulong mapBytes = ReadVarint(plain, ref at);
        if (count != (ulong)scaled.Length || (mapBytes != 0 && mapBytes != (ulong)((scaled.Length + 7) / 8)) || at + (int)mapBytes > plain.Length)
        {
            throw Damaged();
        }

        ReadOnlySpan<byte> map = plain.Slice(at, (int)mapBytes);
        at += (int)mapBytes;
        long previous = 0;
        for (int i = 0; i < scaled.Length; i++)
        {
            if (!map.IsEmpty && (map[i >> 3] & (1 << (i & 7))) != 0)
            {
                scaled[i] = Missing;
                continue;
            }

            ulong zigzag = ReadVarint(plain, ref at);
            previous = unchecked(previous + (long)(zigzag >> 1 ^ (0 - (zigzag & 1))));
            scaled[i] = previous;
        }

        if (at != plain.Length)
        {
            throw Damaged();
        }
    }

    private static int WriteVarint(Span<byte> target, int at, ulong value)
    {
        while (value >= 0x80)
        {
            target[at++] = (byte)(value | 0x80);
            value >>= 7;
        }

        target[at++] = (byte)value;
        return at;
    }

    private static ulong ReadVarint(ReadOnlySpan<byte> source, ref int at)
    {
        ulong value = 0;
        for (int shift = 0; shift < 64; shift += 7)
        {
            if (at >= source.Length)
            {
                throw Damaged();
            }

            byte next = source[at++];
            value |= (ulong)(next & 0x7F) << shift;
            if (next < 0x80)
            {
                return value;
            }
        }

        throw Damaged();
    }

    private static InvalidDataException Damaged() => new("A sample block is damaged or of a later version.");
}
