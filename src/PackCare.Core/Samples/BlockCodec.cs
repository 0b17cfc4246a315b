using System.Buffers;
using System.IO.Compression;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

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
    private const int NearRows = 1024;

    private static ReadOnlySpan<double> PowersOfTen => [1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];

    /// <summary>Packs one run of values, and compresses them.</summary>
    /// <param name="scaled">Values times 10^<paramref name="decimals"/>, or <see cref="Missing"/>.</param>
    /// <param name="decimals">0 to <see cref="MaxDecimals"/>.</param>
    /// <param name="budget">As far as it reaches, compression is put off until the bytes are asked for; null for never.</param>
    public static SampleBlock Encode(ReadOnlySpan<long> scaled, int decimals, PackedBudget? budget = null)
    {
        ArgumentOutOfRangeException.ThrowIfZero(scaled.Length);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(scaled.Length, Channel.BlockRows);
        ArgumentOutOfRangeException.ThrowIfNegative(decimals);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(decimals, MaxDecimals);

        int mapBytes = scaled.Contains(Missing) ? (scaled.Length + 7) / 8 : 0;
        byte[] plain = ArrayPool<byte>.Shared.Rent((2 * MaxVarintBytes) + mapBytes + (scaled.Length * MaxVarintBytes));
        try
        {
            int at = WriteVarint(plain, 0, (ulong)scaled.Length);
            at = WriteVarint(plain, at, (ulong)mapBytes);
            if (mapBytes > 0)
            {
                WriteMap(scaled, plain.AsSpan(at, mapBytes));
                at += mapBytes;
            }

            ReadOnlySpan<byte> packed = plain.AsSpan(0, Pack(scaled, plain, at));
            return budget is not null && budget.TryTake(packed.Length)
                ? new SampleBlock(scaled.Length, decimals, packed.ToArray())
                : new SampleBlock(scaled.Length, Compress(packed, decimals));
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(plain);
        }
    }

    /// <summary>Compresses packed values.</summary>
    internal static byte[] Compress(ReadOnlySpan<byte> packed, int decimals)
    {
        byte[] compressed = ArrayPool<byte>.Shared.Rent(2 + BrotliEncoder.GetMaxCompressedLength(packed.Length));
        try
        {
            compressed[0] = Version;
            compressed[1] = (byte)decimals;
            return BrotliEncoder.TryCompress(packed, compressed.AsSpan(2), out int written, BrotliQuality, BrotliWindow)
                ? compressed.AsSpan(0, written + 2).ToArray()
                : throw new InvalidOperationException("The compressor was given a buffer of its own stated size and did not fit it.");
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(compressed);
        }
    }

    /// <summary>Restores the values of a block.</summary>
    /// <param name="block">A block made by <see cref="Encode"/>.</param>
    /// <param name="scaled">Receives the values, at least as long as the block's count.</param>
    /// <returns>The number of decimals that scale the values.</returns>
    /// <exception cref="InvalidDataException">The bytes are not a block: damaged, cut, or of a later version.</exception>
    public static int Decode(SampleBlock block, Span<long> scaled)
    {
        byte[] rented = [];
        ReadOnlySpan<byte> plain = Plain(block, ref rented, out int decimals);
        var values = new Packed(plain, block.Count);
        values.Next(scaled[..block.Count]);
        values.End();
        Return(rented);
        return decimals;
    }

    /// <summary>Restores the values of a block as binary fractions, NaN where there was no reading: each is divided by 10 to its decimals over a factor.</summary>
    /// <param name="block">A block made by <see cref="Encode"/>.</param>
    /// <param name="factor">What the values are multiplied by.</param>
    /// <param name="into">Receives them; at least as long as the block's count.</param>
    /// <exception cref="InvalidDataException">The bytes are not a block: damaged, cut, or of a later version.</exception>
    public static void Decode(SampleBlock block, double factor, Span<double> into)
    {
        byte[] rented = [];
        ReadOnlySpan<byte> plain = Plain(block, ref rented, out int decimals);
        var values = new Packed(plain, block.Count);
        double divisor = PowersOfTen[decimals] / factor;

        // A stretch at a time, which stays in the nearest cache.
        Span<long> near = stackalloc long[NearRows];
        for (int row = 0; row < block.Count; row += NearRows)
        {
            Span<long> scaled = near[..Math.Min(NearRows, block.Count - row)];
            values.Next(scaled);
            ToDoubles(scaled, divisor, into[row..]);
        }

        values.End();
        Return(rented);
    }

    // The packed values of a block, decompressed into a rented array where they are not at hand.
    private static ReadOnlySpan<byte> Plain(SampleBlock block, ref byte[] rented, out int decimals)
    {
        if (block.TryGetPacked(out ReadOnlyMemory<byte> packed, out decimals))
        {
            return packed.Span;
        }

        ReadOnlySpan<byte> bytes = block.Encoded.Span;
        if (bytes.Length < 3 || bytes[0] != Version || bytes[1] > MaxDecimals || block.Count is < 1 or > Channel.BlockRows)
        {
            throw Damaged();
        }

        int bound = (2 * MaxVarintBytes) + ((block.Count + 7) / 8) + (block.Count * MaxVarintBytes);
        rented = ArrayPool<byte>.Shared.Rent(bound);
        decimals = bytes[1];
        return BrotliDecoder.TryDecompress(bytes[2..], rented.AsSpan(0, bound), out int length) ? rented.AsSpan(0, length) : throw Damaged();
    }

    // Of damaged blocks, which are few, the collector takes care.
    private static void Return(byte[] rented)
    {
        if (rented.Length > 0)
        {
            ArrayPool<byte>.Shared.Return(rented);
        }
    }

    /// <summary>Scaled values as binary fractions: each divided by the same number, NaN where there was no reading.</summary>
    /// <param name="scaled">The values, or <see cref="Missing"/>.</param>
    /// <param name="divisor">What to divide by.</param>
    /// <param name="into">Receives the quotients; at least as long.</param>
    public static void ToDoubles(ReadOnlySpan<long> scaled, double divisor, Span<double> into)
    {
        ref long source = ref MemoryMarshal.GetReference(scaled);
        ref double target = ref MemoryMarshal.GetReference(into[..scaled.Length]);
        Vector256<long> missing = Vector256.Create(Missing);
        Vector256<double> by = Vector256.Create(divisor);
        int i = 0;
        for (; i + 4 <= scaled.Length; i += 4)
        {
            Vector256<long> four = Vector256.LoadUnsafe(ref source, (nuint)i);
            Vector256<double> quotients = Vector256.ConvertToDouble(four) / by;
            Vector256.ConditionalSelect(Vector256.Equals(four, missing).AsDouble(), Vector256.Create(double.NaN), quotients).StoreUnsafe(ref target, (nuint)i);
        }

        for (; i < scaled.Length; i++)
        {
            into[i] = scaled[i] == Missing ? double.NaN : scaled[i] / divisor;
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

        if (block.TryGetPacked(out _, out int decimals))
        {
            return decimals + places > MaxDecimals ? null : block.WithDecimals(decimals + places);
        }

        byte[] bytes = block.Encoded.ToArray();
        if (bytes.Length < 3 || bytes[1] + places > MaxDecimals)
        {
            return null;
        }

        bytes[1] += (byte)places;
        return new SampleBlock(block.Count, bytes);
    }

    private static void WriteMap(ReadOnlySpan<long> scaled, Span<byte> map)
    {
        map.Clear();
        for (int i = 0; i < scaled.Length; i++)
        {
            if (scaled[i] == Missing)
            {
                map[i >> 3] |= (byte)(1 << (i & 7));
            }
        }
    }

    private static int Pack(ReadOnlySpan<long> scaled, byte[] plain, int at)
    {
        long previous = 0;
        int i = 0;
        while (i < scaled.Length)
        {
            // Most readings differ from the one before by less than 64 units: sixteen of them at a time.
            while (i > 0 && scaled[i - 1] != Missing && scaled.Length - i >= 16 && TryPack16(ref MemoryMarshal.GetReference(scaled), i, plain, at))
            {
                i += 16;
                at += 16;
                previous = scaled[i - 1];
            }

            for (int end = Math.Min(scaled.Length, i + 16); i < end; i++)
            {
                long value = scaled[i];
                if (value == Missing)
                {
                    continue;
                }

                long difference = unchecked(value - previous);
                at = WriteVarint(plain, at, (ulong)((difference << 1) ^ (difference >> 63)));
                previous = value;
            }
        }

        return at;
    }

    // Needs a reading right before; a missing one differs too much from it to pass.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static bool TryPack16(ref long scaled, int i, byte[] plain, int at)
    {
        Vector256<long> a = ZigZag(ref scaled, i);
        Vector256<long> b = ZigZag(ref scaled, i + 4);
        Vector256<long> c = ZigZag(ref scaled, i + 8);
        Vector256<long> d = ZigZag(ref scaled, i + 12);
        if (((a | b | c | d) & Vector256.Create(~0x7FL)) != Vector256<long>.Zero)
        {
            return false;
        }

        Vector256<short> words = Vector256.Narrow(Vector256.Narrow(a, b), Vector256.Narrow(c, d));
        Vector128.Narrow(words.GetLower(), words.GetUpper()).AsByte().CopyTo(plain, at);
        return true;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<long> ZigZag(ref long scaled, int i)
    {
        Vector256<long> difference = Vector256.LoadUnsafe(ref scaled, (nuint)i) - Vector256.LoadUnsafe(ref scaled, (nuint)(i - 1));
        return (difference << 1) ^ Vector256.LessThan(difference, Vector256<long>.Zero);
    }

    /// <summary>Packed values on their way to be restored, one stretch after the other.</summary>
    private ref struct Packed
    {
        private readonly ReadOnlySpan<byte> _plain;
        private readonly ReadOnlySpan<byte> _map;
        private int _at;
        private int _row;
        private long _previous;

        public Packed(ReadOnlySpan<byte> plain, int rows)
        {
            ulong count = ReadVarint(plain, ref _at);
            ulong mapBytes = ReadVarint(plain, ref _at);
            if (count != (ulong)rows || (mapBytes != 0 && mapBytes != (ulong)((rows + 7) / 8)) || _at + (int)mapBytes > plain.Length)
            {
                throw Damaged();
            }

            _plain = plain;
            _map = plain.Slice(_at, (int)mapBytes);
            _at += (int)mapBytes;
        }

        public void Next(Span<long> scaled)
        {
            _at = _map.IsEmpty ? UnpackAll(_plain, _at, scaled, ref _previous) : UnpackPresent(_plain, _at, _map, _row, scaled, ref _previous);
            _row += scaled.Length;
        }

        public readonly void End()
        {
            if (_at != _plain.Length)
            {
                throw Damaged();
            }
        }
    }

    private static int UnpackAll(ReadOnlySpan<byte> plain, int at, Span<long> scaled, ref long last)
    {
        long previous = last;
        int i = 0;
        while (i < scaled.Length)
        {
            // Most differences are of one byte: sixteen of them at a time.
            while (scaled.Length - i >= 16 && plain.Length - at >= 16 && TryUnpack16(ref MemoryMarshal.GetReference(plain), at, ref MemoryMarshal.GetReference(scaled), i, previous))
            {
                at += 16;
                i += 16;
                previous = scaled[i - 1];
            }

            for (int end = Math.Min(scaled.Length, i + 16); i < end; i++)
            {
                previous = unchecked(previous + FromZigZag(ReadVarint(plain, ref at)));
                scaled[i] = previous;
            }
        }

        last = previous;
        return at;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static bool TryUnpack16(ref byte plain, int at, ref long scaled, int i, long previous)
    {
        Vector128<byte> zigzag = Vector128.LoadUnsafe(ref plain, (nuint)at);
        if (zigzag.ExtractMostSignificantBits() != 0)
        {
            return false;
        }

        // No byte has its highest bit, so that halves may be taken two bytes at a time if what crosses over is masked out.
        Vector128<byte> half = (zigzag.AsUInt16() >>> 1).AsByte() & Vector128.Create((byte)0x3F);
        Vector128<sbyte> differences = half.AsSByte() ^ -(zigzag & Vector128.Create((byte)1)).AsSByte();
        Vector128<short> first = RunningSum(Vector128.WidenLower(differences));
        Vector128<short> second = RunningSum(Vector128.WidenUpper(differences)) + Vector128.Create(first[7]);
        Vector256<long> before = Vector256.Create(previous);
        Store(first, before, ref Unsafe.Add(ref scaled, i));
        Store(second, before, ref Unsafe.Add(ref scaled, i + 8));
        return true;
    }

    // Sixteen differences of less than 64 add up to less than 1024.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector128<short> RunningSum(Vector128<short> values)
    {
        values += Vector128.Shuffle(values.AsByte(), Vector128.Create((byte)255, 255, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13)).AsInt16();
        values += Vector128.Shuffle(values.AsByte(), Vector128.Create((byte)255, 255, 255, 255, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11)).AsInt16();
        return values + Vector128.Shuffle(values.AsByte(), Vector128.Create((byte)255, 255, 255, 255, 255, 255, 255, 255, 0, 1, 2, 3, 4, 5, 6, 7)).AsInt16();
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Store(Vector128<short> sums, Vector256<long> before, ref long target)
    {
        Vector256<int> wide = Vector256.Create(Vector128.WidenLower(sums), Vector128.WidenUpper(sums));
        (Vector256.WidenLower(wide) + before).StoreUnsafe(ref target);
        (Vector256.WidenUpper(wide) + before).StoreUnsafe(ref target, 4);
    }

    private static int UnpackPresent(ReadOnlySpan<byte> plain, int at, ReadOnlySpan<byte> map, int row, Span<long> scaled, ref long last)
    {
        long previous = last;
        for (int i = 0; i < scaled.Length; i++)
        {
            if ((map[(row + i) >> 3] & (1 << ((row + i) & 7))) != 0)
            {
                scaled[i] = Missing;
                continue;
            }

            previous = unchecked(previous + FromZigZag(ReadVarint(plain, ref at)));
            scaled[i] = previous;
        }

        last = previous;
        return at;
    }

    private static long FromZigZag(ulong zigzag) => (long)(zigzag >> 1 ^ (0 - (zigzag & 1)));

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
