using System.Buffers.Binary;
using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace PackCare.Import.Tables;

/// <summary>
/// Reads a column of short plain numbers, eight bytes at a time: an optional minus, at most eight digits and decimal mark
/// together, nothing else. Each is read as the number lexer reads it; the first that is not so short or plain is left to it.
/// </summary>
internal struct PlainNumbers
{
    private const ulong Zeros = 0x3030_3030_3030_3030;

    /// <summary>The longest number, sign left out; it has fewer decimals than this.</summary>
    internal const int MostBytes = 8;

    // Where one number is negative or of fewer decimals, the next ones likely are as well.
    private const int MostSingly = 32;

    private static ReadOnlySpan<int> Powers => [1, 10, 100, 1000, 10_000, 100_000, 1_000_000, 10_000_000];

    /// <summary>Whether one of the numbers would be another under the other decimal mark.</summary>
    internal bool SawEitherMark;

    /// <summary>Whether one of the numbers would be none under the other decimal mark.</summary>
    internal bool SawProof;

    /// <summary>How many of the numbers were written with how many decimals, where fewer than the others.</summary>
    internal ByDecimals Fewer;

    /// <summary>The row of the first of those.</summary>
    internal ByDecimals FirstWithFewer;

    /// <summary>A figure for each count of decimals.</summary>
    [InlineArray(MostBytes)]
    internal struct ByDecimals
    {
        private int _first;
    }

    /// <summary>How many of the numbers were written with fewer decimals than these.</summary>
    internal readonly int CountFewer(int decimals)
    {
        int count = 0;
        for (int fewer = 0; fewer < decimals && fewer < MostBytes; fewer++)
        {
            count += Fewer[fewer];
        }

        return count;
    }

    /// <summary>Reads on from one row.</summary>
    /// <param name="rows">The rows.</param>
    /// <param name="column">The column.</param>
    /// <param name="from">The first row to read.</param>
    /// <param name="values">Receives the numbers times 10^<paramref name="decimals"/>; no more are read than fit.</param>
    /// <param name="decimals">The decimals in which numbers are kept; one with more is left.</param>
    /// <param name="mark">The decimal mark.</param>
    /// <returns>How many were read.</returns>
    internal int Read(PlainRows rows, int column, int from, Span<long> values, int decimals, byte mark)
    {
        if (Avx2.IsSupported && decimals < MostBytes)
        {
            int read = 0;
            while (read < values.Length)
            {
                read += ReadFours(rows, column, from + read, values[read..], decimals, mark);
                int left = Math.Min(values.Length - read, MostSingly);
                int single = ReadSingly(rows, column, from + read, values.Slice(read, left), decimals, mark);
                read += single;
                if (single < left)
                {
                    break;
                }
            }

            return read;
        }

        return ReadSingly(rows, column, from, values, decimals, mark);
    }

    private int ReadSingly(PlainRows rows, int column, int from, Span<long> values, int decimals, byte mark)
    {
        ReadOnlySpan<byte> bytes = rows.Bytes;
        ReadOnlySpan<int> ends = rows.Ends;
        ReadOnlySpan<int> starts = rows.Starts;
        int width = rows.Width;
        int at = (from * width) + column;
        int expected = decimals;
        bool either = false;
        bool proof = false;
        int read = 0;
        for (; read < values.Length; read++, at += width)
        {
            int end = ends[at];
            int first = column == 0 ? starts[from + read] : ends[at - 1] + 1;
            bool negative = bytes[first] == '-';
            first += negative ? 1 : 0;
            int length = end - first;
            if ((uint)(length - 1) >= MostBytes)
            {
                break;
            }

            ulong text = BinaryPrimitives.ReadUInt64LittleEndian(bytes[(end - MostBytes)..]);
            int places = 0;
            if (expected > 0 && expected < length && (byte)(text >> (56 - (8 * expected))) == mark)
            {
                places = expected;
            }
            else
            {
                // The lowest byte that is the mark; bytes before the field are kept out of it.
                ulong differs = (text ^ (mark * 0x0101_0101_0101_0101UL)) | ((1UL << (8 * (MostBytes - length))) - 1);
                ulong found = (differs - 0x0101_0101_0101_0101) & ~differs & 0x8080_8080_8080_8080;
                if (found != 0)
                {
                    places = 7 - (BitOperations.TrailingZeroCount(found) >> 3);
                    if (places == 0)
                    {
                        break;
                    }
                }
            }

            int digits = length;
            if (places > 0)
            {
                // Takes the mark out: what stands before it moves up by one.
                int fraction = 64 - (8 * places);
                text = (text >> fraction << fraction) | ((text & ((1UL << (fraction - 8)) - 1)) << 8);
                digits--;
            }

            int empty = 8 * (MostBytes - digits);
            if (empty > 0)
            {
                if (empty == 64)
                {
                    break;
                }

                text = (text >> empty << empty) | (Zeros >> (64 - empty));
            }

            if (((text & 0xF0F0_F0F0_F0F0_F0F0) | (((text + 0x0606_0606_0606_0606) & 0xF0F0_F0F0_F0F0_F0F0) >> 4)) != 0x3333_3333_3333_3333 || (uint)(decimals - places) >= MostBytes)
            {
                break;
            }

            bool isEither = places == 3 && (uint)(digits - 4) <= 2 && bytes[first] != '0';
            either |= isEither;
            proof |= places > 0 && !isEither;

            text = (text & 0x0F0F_0F0F_0F0F_0F0F) * 2561 >> 8;
            text = (text & 0x00FF_00FF_00FF_00FF) * 6_553_601 >> 16;
            long value = (long)((text & 0x0000_FFFF_0000_FFFF) * 42_949_672_960_001 >> 32);
            if (places < decimals)
            {
                if (Fewer[places]++ == 0)
                {
                    FirstWithFewer[places] = from + read;
                }

                value *= Powers[decimals - places];
            }

            expected = places;
            values[read] = negative ? -value : value;
        }

        SawEitherMark |= either;
        SawProof |= proof;
        return read;
    }

    // Four numbers at a time, up to the first four of which one is negative or not written with just those decimals.
    private int ReadFours(PlainRows rows, int column, int from, Span<long> values, int decimals, byte mark)
    {
        int width = rows.Width;
        ref byte bytes = ref MemoryMarshal.GetReference(rows.Bytes);
        ref int end = ref Unsafe.Add(ref MemoryMarshal.GetReference(rows.Ends), (from * width) + column);
        // A field begins where its row does, or behind the delimiter of the one before it.
        ref int before = ref column == 0 ? ref Unsafe.Add(ref MemoryMarshal.GetReference(rows.Starts), from) : ref Unsafe.Subtract(ref end, 1);
        (int stride, int gap) = column == 0 ? (1, 0) : (width, 1);
        ref long target = ref MemoryMarshal.GetReference(values);
        int fraction = 64 - (8 * decimals);
        Vector256<ulong> whole = Vector256.Create(decimals == 0 ? 0 : (1UL << (fraction - 8)) - 1);
        Vector256<ulong> places = Vector256.Create(decimals == 0 ? ulong.MaxValue : ~0UL << fraction);
        Vector256<ulong> marks = Vector256.Create(decimals == 0 ? 0 : (ulong)mark << (fraction - 8));
        Vector256<ulong> atMark = Vector256.Create(decimals == 0 ? 0 : 0xFFUL << (fraction - 8));
        Vector256<ulong> moved = Vector256.Create(decimals == 0 ? 0 : (ulong)'0');
        int read = 0;
        for (; read + 4 <= values.Length; read += 4)
        {
            ref int third = ref Unsafe.Add(ref end, 2 * width);
            ref int beforeThird = ref Unsafe.Add(ref before, 2 * stride);
            int a = before + gap;
            int b = Unsafe.Add(ref before, stride) + gap;
            int c = beforeThird + gap;
            int d = Unsafe.Add(ref beforeThird, stride) + gap;
            int aLength = end - a;
            int bLength = Unsafe.Add(ref end, width) - b;
            int cLength = third - c;
            int dLength = Unsafe.Add(ref third, width) - d;
            Vector256<ulong> text = Vector256.Create(
                Field(ref bytes, a, aLength), Field(ref bytes, b, bLength), Field(ref bytes, c, cLength), Field(ref bytes, d, dLength));
            bool fits = (uint)((aLength - 1) | (bLength - 1) | (cLength - 1) | (dLength - 1)) < MostBytes;
            bool marked = (text & atMark) == marks;

            // Takes the mark out: what stands before it moves up by one. A sign is no digit either.
            text = (text & places) | ((text & whole) << 8) | moved;
            Vector256<byte> digits = text.AsByte() - Vector256.Create((byte)'0');
            if (!fits || !marked || Vector256.GreaterThanAny(digits, Vector256.Create((byte)9)))
            {
                break;
            }

            if (decimals == 3)
            {
                int either = EitherMark(ref bytes, a, aLength) + EitherMark(ref bytes, b, bLength) + EitherMark(ref bytes, c, cLength) + EitherMark(ref bytes, d, dLength);
                SawEitherMark |= either > 0;
                SawProof |= either < 4;
            }

            Vector256<short> pairs = Avx2.MultiplyAddAdjacent(digits, Vector256.Create((short)0x010A).AsSByte());
            Vector256<int> halves = Avx2.MultiplyAddAdjacent(pairs, Vector256.Create(0x0001_0064).AsInt16());
            Vector256<ulong> numbers = Avx2.Multiply(halves.AsUInt32(), Vector256.Create(10_000U)) + (halves.AsUInt64() >>> 32);
            numbers.AsInt64().StoreUnsafe(ref Unsafe.Add(ref target, read));
            end = ref Unsafe.Add(ref third, 2 * width);
            before = ref Unsafe.Add(ref beforeThird, 2 * stride);
        }

        SawProof |= read > 0 && decimals is > 0 and not 3;
        return read;
    }

    // The eight bytes that end with a field, with zeros for those before it.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static ulong Field(ref byte bytes, int first, int length)
    {
        int empty = 8 * (MostBytes - length);
        ulong text = Unsafe.ReadUnaligned<ulong>(ref Unsafe.Add(ref bytes, first + length - MostBytes));
        return (text >> empty << empty) | (Zeros >> 8 >> (56 - empty));
    }

    // 1 where three digits follow the mark and one to three stand before it, as thousands would be written.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static int EitherMark(ref byte bytes, int first, int length) => (uint)(length - 5) <= 2 && Unsafe.Add(ref bytes, first) != '0' ? 1 : 0;
}
