using System.Runtime.CompilerServices;

namespace PackCare.Core.Samples;

/// <summary>Whole numbers in as few bytes as they need: seven bits a byte, least significant first, the top bit set in all but the last.</summary>
internal static class Varint
{
    /// <summary>The most bytes of one number.</summary>
    internal const int MaxBytes = 10;

    /// <summary>Writes one number; gives where the next goes.</summary>
    internal static int Write(Span<byte> target, int at, ulong value)
    {
        while (value >= 0x80)
        {
            target[at++] = (byte)(value | 0x80);
            value >>= 7;
        }

        target[at++] = (byte)value;
        return at;
    }

    /// <summary>Reads one number and moves on behind it.</summary>
    /// <exception cref="InvalidDataException">There is none.</exception>
    internal static ulong Read(ReadOnlySpan<byte> source, ref int at)
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

    /// <summary>The code of a difference: small for small ones of either sign.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static ulong ZigZag(long difference) => (ulong)((difference << 1) ^ (difference >> 63));

    /// <summary>The difference of a code.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static long FromZigZag(ulong code) => (long)(code >> 1 ^ (0 - (code & 1)));

    /// <summary>Says that bytes are no block.</summary>
    internal static InvalidDataException Damaged() => new("A sample block is damaged or of a later version.");
}
