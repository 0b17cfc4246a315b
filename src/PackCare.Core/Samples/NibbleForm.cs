using System.Numerics;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace PackCare.Core.Samples;

/// <summary>
/// Readings as half a byte each, of the difference to the one before; for channels without gaps that change by a few units a row, as
/// most do. The few larger steps follow behind. Takes half the bytes of one varint each, and the compressor half the time.
/// </summary>
internal static class NibbleForm
{
    /// <summary>What a block's first byte is.</summary>
    internal const byte Version = 2;

    // Stands for a code that follows behind, less itself.
    private const ulong Escape = 15;

    // With more than one in so many, a varint each is shorter.
    private const int ReadingsOfEscape = 5;

    // Up to here a whole number and the steps of sixteen are exact as a binary fraction.
    private const long MostExact = 1L << 52;

    /// <summary>Packs readings, none of which is missing.</summary>
    /// <param name="scaled">The readings.</param>
    /// <param name="plain">Where they go: up to one varint each.</param>
    /// <param name="at">From where on.</param>
    /// <returns>Where they end; -1 where too many steps are large.</returns>
    internal static int TryPack(ReadOnlySpan<long> scaled, Span<byte> plain, int at)
    {
        at = Varint.Write(plain, at, Varint.ZigZag(scaled[0]));
        Span<byte> halves = plain.Slice(at, scaled.Length / 2);
        int escapesAt = at + halves.Length;
        int left = scaled.Length / ReadingsOfEscape;
        int i = 1;
        for (; i + Steps16.Count <= scaled.Length; i += Steps16.Count)
        {
            uint escapes = Pack16(ref MemoryMarshal.GetReference(scaled), i, halves[(i / 2)..]);
            left -= BitOperations.PopCount(escapes);
            if (left < 0)
            {
                return -1;
            }

            for (; escapes != 0; escapes &= escapes - 1)
            {
                int from = i + BitOperations.TrailingZeroCount(escapes);
                escapesAt = Varint.Write(plain, escapesAt, Varint.ZigZag(unchecked(scaled[from] - scaled[from - 1])) - Escape);
            }
        }

        halves[(i / 2)..].Clear();
        for (; i < scaled.Length; i++)
        {
            ulong code = Varint.ZigZag(unchecked(scaled[i] - scaled[i - 1]));
            halves[(i - 1) / 2] |= (byte)(Math.Min(code, Escape) << (4 * ((i - 1) & 1)));
            if (code >= Escape)
            {
                escapesAt = Varint.Write(plain, escapesAt, code - Escape);
                left--;
            }
        }

        return left < 0 ? -1 : escapesAt;
    }

    // Gives a bit for each of the sixteen that does not fit.
    private static uint Pack16(ref long scaled, int i, Span<byte> halves)
    {
        Vector256<ulong> most = Vector256.Create(Escape);
        Vector128<byte> codes = Steps16.Bytes(
            Vector256.Min(Steps16.Codes(ref scaled, i), most),
            Vector256.Min(Steps16.Codes(ref scaled, i + 4), most),
            Vector256.Min(Steps16.Codes(ref scaled, i + 8), most),
            Vector256.Min(Steps16.Codes(ref scaled, i + 12), most));
        Vector128<ushort> pairs = codes.AsUInt16();
        Vector128<ushort> halved = (pairs | (pairs >>> 4)) & Vector128.Create((ushort)0xFF);
        Vector128.Narrow(halved, halved).GetLower().CopyTo(halves);
        return Vector128.Equals(codes, Vector128.Create((byte)Escape)).ExtractMostSignificantBits();
    }

    /// <summary>Readings on their way to be restored, one stretch after the other.</summary>
    internal ref struct Reader
    {
        private readonly ReadOnlySpan<byte> _halves;
        private readonly ReadOnlySpan<byte> _escapes;
        private int _escapesAt;
        private int _done;
        private long _last;

        internal Reader(ReadOnlySpan<byte> plain, int at, int count)
        {
            _last = Varint.FromZigZag(Varint.Read(plain, ref at));
            if (plain.Length - at < count / 2)
            {
                throw Varint.Damaged();
            }

            _halves = plain.Slice(at, count / 2);
            _escapes = plain[(at + (count / 2))..];
        }

        internal readonly bool IsAtEnd => _escapesAt == _escapes.Length;

        internal void Next(Span<long> scaled)
        {
            int i = TakeFirst(scaled.Length);
            if (i > 0)
            {
                scaled[0] = _last;
            }

            while (i < scaled.Length)
            {
                if (scaled.Length - i >= Steps16.Count && TryNext16(out Vector128<byte> codes))
                {
                    _last = Steps16.AddUp(codes, _last, ref scaled[i]);
                    i += Steps16.Count;
                    continue;
                }

                for (int end = Math.Min(scaled.Length, i + ToEvenGroup()); i < end; i++)
                {
                    scaled[i] = NextSingly();
                }
            }
        }

        /// <summary>The same, divided by a number that <see cref="Divisor"/> is suited for.</summary>
        internal void NextQuotients(Span<double> quotients, double divisor)
        {
            var by = new Divisor(divisor);
            int i = TakeFirst(quotients.Length);
            if (i > 0)
            {
                quotients[0] = _last / divisor;
            }

            while (i < quotients.Length)
            {
                if (quotients.Length - i >= Steps16.Count && _last is > -MostExact and < MostExact && TryNext16(out Vector128<byte> codes))
                {
                    _last = Steps16.AddUp(codes, _last, by, ref quotients[i]);
                    i += Steps16.Count;
                    continue;
                }

                for (int end = Math.Min(quotients.Length, i + ToEvenGroup()); i < end; i++)
                {
                    quotients[i] = NextSingly() / divisor;
                }
            }
        }

        // The first reading stands alone, so that groups begin at an even one.
        private int TakeFirst(int room)
        {
            if (_done > 0 || room == 0)
            {
                return 0;
            }

            _done = 1;
            return 1;
        }

        private readonly int ToEvenGroup() => (_done & 1) == 1 ? Steps16.Count : 1;

        private long NextSingly()
        {
            int from = _done++ - 1;
            ulong code = (ulong)(_halves[from / 2] >> (4 * (from & 1))) & 0xF;
            return _last = unchecked(_last + Varint.FromZigZag(code < Escape ? code : Escape + Varint.Read(_escapes, ref _escapesAt)));
        }

        private bool TryNext16(out Vector128<byte> codes)
        {
            if ((_done & 1) == 0)
            {
                codes = default;
                return false;
            }

            Vector128<ushort> pairs = Vector128.WidenLower(Vector128.CreateScalarUnsafe(MemoryMarshal.Read<ulong>(_halves[((_done - 1) / 2)..])).AsByte());
            codes = ((pairs | (pairs << 4)) & Vector128.Create((ushort)0x0F0F)).AsByte();
            uint escapes = Vector128.Equals(codes, Vector128.Create((byte)Escape)).ExtractMostSignificantBits();
            if (escapes != 0 && !TryFillIn(ref codes, escapes))
            {
                return false;
            }

            _done += Steps16.Count;
            return true;
        }

        private bool TryFillIn(ref Vector128<byte> codes, uint escapes)
        {
            int at = _escapesAt;
            Span<byte> filled = stackalloc byte[Steps16.Count];
            codes.CopyTo(filled);
            for (; escapes != 0; escapes &= escapes - 1, at++)
            {
                // A code of 128 or more goes its own way, and so does one that is not there.
                if (at >= _escapes.Length || _escapes[at] >= 0x80 - Escape)
                {
                    return false;
                }

                filled[BitOperations.TrailingZeroCount(escapes)] += _escapes[at];
            }

            _escapesAt = at;
            codes = Vector128.Create((ReadOnlySpan<byte>)filled);
            return true;
        }
    }
}
