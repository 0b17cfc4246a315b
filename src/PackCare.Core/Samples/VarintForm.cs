using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace PackCare.Core.Samples;

/// <summary>Readings as one varint each, of the difference to the one before; for channels with gaps or with large steps.</summary>
internal static class VarintForm
{
    /// <summary>What a block's first byte is.</summary>
    internal const byte Version = 1;

    /// <summary>Packs readings, those that are missing left out.</summary>
    /// <param name="scaled">The readings.</param>
    /// <param name="plain">Where they go.</param>
    /// <param name="at">From where on.</param>
    /// <returns>Where they end.</returns>
    internal static int Pack(ReadOnlySpan<long> scaled, Span<byte> plain, int at)
    {
        long previous = 0;
        int i = 0;
        while (i < scaled.Length)
        {
            // Most readings differ from the one before by less than 64 units: sixteen of them at a time.
            while (i > 0 && scaled[i - 1] != BlockCodec.Missing && scaled.Length - i >= Steps16.Count && TryPack16(ref MemoryMarshal.GetReference(scaled), i, plain[at..]))
            {
                i += Steps16.Count;
                at += Steps16.Count;
                previous = scaled[i - 1];
            }

            for (int end = Math.Min(scaled.Length, i + Steps16.Count); i < end; i++)
            {
                long value = scaled[i];
                if (value == BlockCodec.Missing)
                {
                    continue;
                }

                at = Varint.Write(plain, at, Varint.ZigZag(unchecked(value - previous)));
                previous = value;
            }
        }

        return at;
    }

    // Needs a reading right before; a missing one differs too much from it to pass.
    private static bool TryPack16(ref long scaled, int i, Span<byte> plain)
    {
        Vector256<ulong> a = Steps16.Codes(ref scaled, i);
        Vector256<ulong> b = Steps16.Codes(ref scaled, i + 4);
        Vector256<ulong> c = Steps16.Codes(ref scaled, i + 8);
        Vector256<ulong> d = Steps16.Codes(ref scaled, i + 12);
        if (((a | b | c | d) & Vector256.Create(~0x7FUL)) != Vector256<ulong>.Zero)
        {
            return false;
        }

        Steps16.Bytes(a, b, c, d).CopyTo(plain);
        return true;
    }

    /// <summary>Restores the readings that follow, none of which is missing.</summary>
    /// <param name="plain">The packed readings.</param>
    /// <param name="at">Where the next stands.</param>
    /// <param name="scaled">Receives them.</param>
    /// <param name="last">The reading before, and afterwards the last.</param>
    /// <returns>Where they end.</returns>
    internal static int Unpack(ReadOnlySpan<byte> plain, int at, Span<long> scaled, ref long last)
    {
        long previous = last;
        int i = 0;
        while (i < scaled.Length)
        {
            // Most differences are of one byte: sixteen of them at a time.
            while (scaled.Length - i >= Steps16.Count && plain.Length - at >= Steps16.Count)
            {
                Vector128<byte> codes = Vector128.LoadUnsafe(ref MemoryMarshal.GetReference(plain), (nuint)at);
                if (codes.ExtractMostSignificantBits() != 0)
                {
                    break;
                }

                Steps16.AddUp(codes, previous, ref scaled[i]);
                at += Steps16.Count;
                i += Steps16.Count;
                previous = scaled[i - 1];
            }

            for (int end = Math.Min(scaled.Length, i + Steps16.Count); i < end; i++)
            {
                previous = unchecked(previous + Varint.FromZigZag(Varint.Read(plain, ref at)));
                scaled[i] = previous;
            }
        }

        last = previous;
        return at;
    }

    /// <summary>Restores the readings that follow, with those that a map of bits says are missing.</summary>
    /// <param name="plain">The packed readings.</param>
    /// <param name="at">Where the next stands.</param>
    /// <param name="map">A bit for each reading of the block, set where it is missing.</param>
    /// <param name="row">Which reading of the block follows.</param>
    /// <param name="scaled">Receives them.</param>
    /// <param name="last">The reading before, and afterwards the last.</param>
    /// <returns>Where they end.</returns>
    internal static int Unpack(ReadOnlySpan<byte> plain, int at, ReadOnlySpan<byte> map, int row, Span<long> scaled, ref long last)
    {
        long previous = last;
        for (int i = 0; i < scaled.Length; i++)
        {
            if ((map[(row + i) >> 3] & (1 << ((row + i) & 7))) != 0)
            {
                scaled[i] = BlockCodec.Missing;
                continue;
            }

            previous = unchecked(previous + Varint.FromZigZag(Varint.Read(plain, ref at)));
            scaled[i] = previous;
        }

        last = previous;
        return at;
    }
}
