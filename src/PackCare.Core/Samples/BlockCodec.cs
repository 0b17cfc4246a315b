using System.Buffers;
using System.IO.Compression;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace PackCare.Core.Samples;

/// <summary>
/// Packs decimal readings without loss: each value is a whole number of units of the block's last decimal
/// place, written as the zig-zag code of its difference to the one before, then Brotli-compressed.
/// Not a general container: no name, no checksum (the history keeps one beside the bytes).
/// </summary>
/// <remarks>
/// Layout: byte 0 the version; byte 1 the number of decimals; then the Brotli stream of varint(count), varint(bytes of the
/// missing map or 0), the missing map (bit set = missing, least significant bit first), and the codes. In version 1 these are one
/// varint for each value that is present. In version 2, which has no missing values, they are one varint for the first value, then four
/// bits for each other one, the lower half of a byte first and the last half zero if it is left over, and then, for each that is
/// 15, in their order, a varint of what the code has above 15.
/// </remarks>
public static class BlockCodec
{
    /// <summary>Stands for "no reading" among scaled values.</summary>
    public const long Missing = long.MinValue;

    /// <summary>The most decimals a block can carry; 15 keeps every logged double digit.</summary>
    public const int MaxDecimals = 15;

    // The quickest: the codes are compact already, and what slower ones save is a few bytes in a hundred.
    private const int BrotliQuality = 0;
    private const int BrotliWindow = 18;
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
        byte[] plain = ArrayPool<byte>.Shared.Rent(Bound(scaled.Length));
        try
        {
            int at = Varint.Write(plain, 1, (ulong)scaled.Length);
            at = Varint.Write(plain, at, (ulong)mapBytes);
            if (mapBytes > 0)
            {
                WriteMap(scaled, plain.AsSpan(at, mapBytes));
                at += mapBytes;
            }

            int end = mapBytes > 0 ? -1 : NibbleForm.TryPack(scaled, plain, at);
            plain[0] = end < 0 ? VarintForm.Version : NibbleForm.Version;
            ReadOnlySpan<byte> packed = plain.AsSpan(0, end < 0 ? VarintForm.Pack(scaled, plain, at) : end);
            return budget is not null && budget.TryTake(packed.Length)
                ? new SampleBlock(scaled.Length, decimals, packed.ToArray())
                : new SampleBlock(scaled.Length, Compress(packed, decimals));
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(plain);
        }
    }

    // The version, two numbers before the values, the map of those that are missing, and the values.
    private static int Bound(int rows) => 1 + (2 * Varint.MaxBytes) + ((rows + 7) / 8) + (rows * Varint.MaxBytes);

    /// <summary>Compresses packed values, the first byte of which is the version.</summary>
    internal static byte[] Compress(ReadOnlySpan<byte> packed, int decimals)
    {
        byte[] compressed = ArrayPool<byte>.Shared.Rent(2 + BrotliEncoder.GetMaxCompressedLength(packed.Length));
        try
        {
            compressed[0] = packed[0];
            compressed[1] = (byte)decimals;
            return BrotliEncoder.TryCompress(packed[1..], compressed.AsSpan(2), out int written, BrotliQuality, BrotliWindow)
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
        ReadOnlySpan<byte> plain = Plain(block, ref rented, out byte version, out int decimals);
        var values = new Packed(version, plain, block.Count);
        values.Next(scaled[..block.Count]);
        values.End();
        Return(rented);
        return decimals;
    }

    /// <summary>Restores the first values of a block as binary fractions, NaN where there was no reading: each is divided by 10 to its decimals over a factor.</summary>
    /// <param name="block">A block made by <see cref="Encode"/>.</param>
    /// <param name="factor">What the values are multiplied by.</param>
    /// <param name="into">Receives them, as many as it is long and the block holds.</param>
    /// <exception cref="InvalidDataException">The bytes are not a block: damaged, cut, or of a later version.</exception>
    public static void Decode(SampleBlock block, double factor, Span<double> into)
    {
        byte[] rented = [];
        ReadOnlySpan<byte> plain = Plain(block, ref rented, out byte version, out int decimals);
        var values = new Packed(version, plain, block.Count);
        double divisor = PowersOfTen[decimals] / factor;
        int rows = Math.Min(block.Count, into.Length);

        if (version == NibbleForm.Version && Divisor.IsSuited(divisor))
        {
            values.NextQuotients(into[..rows], divisor);
        }
        else
        {
            // A stretch at a time, which stays in the nearest cache.
            Span<long> near = stackalloc long[NearRows];
            for (int row = 0; row < rows; row += NearRows)
            {
                Span<long> scaled = near[..Math.Min(NearRows, rows - row)];
                values.Next(scaled);
                ToDoubles(scaled, divisor, into[row..]);
            }
        }

        if (rows == block.Count)
        {
            values.End();
        }

        Return(rented);
    }

    // The packed values of a block without their version, decompressed into a rented array where they are not at hand.
    private static ReadOnlySpan<byte> Plain(SampleBlock block, ref byte[] rented, out byte version, out int decimals)
    {
        if (block.TryGetPacked(out ReadOnlyMemory<byte> packed, out decimals))
        {
            version = packed.Span[0];
            return packed.Span[1..];
        }

        ReadOnlySpan<byte> bytes = block.Encoded.Span;
        if (bytes.Length < 3 || bytes[0] is not (VarintForm.Version or NibbleForm.Version) || bytes[1] > MaxDecimals || block.Count is < 1 or > Channel.BlockRows)
        {
            throw Varint.Damaged();
        }

        int bound = Bound(block.Count);
        rented = ArrayPool<byte>.Shared.Rent(bound);
        (version, decimals) = (bytes[0], bytes[1]);
        return BrotliDecoder.TryDecompress(bytes[2..], rented.AsSpan(0, bound), out int length) ? rented.AsSpan(0, length) : throw Varint.Damaged();
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
    /// <param name="into">Receives the quotients, each rounded as division rounds; at least as long.</param>
    public static void ToDoubles(ReadOnlySpan<long> scaled, double divisor, Span<double> into)
    {
        ref long source = ref MemoryMarshal.GetReference(scaled);
        ref double target = ref MemoryMarshal.GetReference(into[..scaled.Length]);
        int i = 0;
        if (Divisor.IsSuited(divisor))
        {
            var by = new Divisor(divisor);
            for (; i + 4 <= scaled.Length; i += 4)
            {
                Vector256<long> four = Vector256.LoadUnsafe(ref source, (nuint)i);
                OrNaN(four, by.Quotients(Vector256.ConvertToDouble(four))).StoreUnsafe(ref target, (nuint)i);
            }
        }

        Vector256<double> divisors = Vector256.Create(divisor);
        for (; i + 4 <= scaled.Length; i += 4)
        {
            Vector256<long> four = Vector256.LoadUnsafe(ref source, (nuint)i);
            OrNaN(four, Vector256.ConvertToDouble(four) / divisors).StoreUnsafe(ref target, (nuint)i);
        }

        for (; i < scaled.Length; i++)
        {
            into[i] = scaled[i] == Missing ? double.NaN : scaled[i] / divisor;
        }
    }

    private static Vector256<double> OrNaN(Vector256<long> scaled, Vector256<double> quotients) =>
        Vector256.ConditionalSelect(Vector256.Equals(scaled, Vector256.Create(Missing)).AsDouble(), Vector256.Create(double.NaN), quotients);

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

    /// <summary>Packed values on their way to be restored, one stretch after the other.</summary>
    private ref struct Packed
    {
        private readonly bool _inNibbles;
        private readonly ReadOnlySpan<byte> _plain;
        private readonly ReadOnlySpan<byte> _map;
        private NibbleForm.Reader _nibbles;
        private int _at;
        private int _row;
        private long _previous;

        public Packed(byte version, ReadOnlySpan<byte> plain, int rows)
        {
            ulong count = Varint.Read(plain, ref _at);
            ulong mapBytes = Varint.Read(plain, ref _at);
            _inNibbles = version == NibbleForm.Version;
            if (count != (ulong)rows || (mapBytes != 0 && (_inNibbles || mapBytes != (ulong)((rows + 7) / 8))) || _at + (int)mapBytes > plain.Length)
            {
                throw Varint.Damaged();
            }

            _plain = plain;
            _map = plain.Slice(_at, (int)mapBytes);
            _at += (int)mapBytes;
            if (_inNibbles)
            {
                _nibbles = new NibbleForm.Reader(plain, _at, rows);
            }
        }

        public void Next(Span<long> scaled)
        {
            if (_inNibbles)
            {
                _nibbles.Next(scaled);
                return;
            }

            _at = _map.IsEmpty ? VarintForm.Unpack(_plain, _at, scaled, ref _previous) : VarintForm.Unpack(_plain, _at, _map, _row, scaled, ref _previous);
            _row += scaled.Length;
        }

        // Of those in nibbles, none of which is missing.
        public void NextQuotients(Span<double> quotients, double divisor) => _nibbles.NextQuotients(quotients, divisor);

        public readonly void End()
        {
            if (_inNibbles ? !_nibbles.IsAtEnd : _at != _plain.Length)
            {
                throw Varint.Damaged();
            }
        }
    }
}
