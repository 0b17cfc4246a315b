using System.Numerics;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace PackCare.Import.Text;

/// <summary>Looks in one go at bytes of which nearly every log is made: printable ASCII, tabs and line ends.</summary>
internal static class PlainText
{
    /// <summary>Whether nothing else is in them; then also how many of them end a line.</summary>
    /// <param name="span">The bytes.</param>
    /// <param name="feeds">How many are LF.</param>
    /// <param name="returns">How many are CR.</param>
    internal static bool Is(ReadOnlySpan<byte> span, out int feeds, out int returns)
    {
        (feeds, returns) = (0, 0);
        ref byte start = ref MemoryMarshal.GetReference(span);
        int i = 0;
        for (; i + Vector256<byte>.Count <= span.Length; i += Vector256<byte>.Count)
        {
            Vector256<byte> bytes = Vector256.LoadUnsafe(ref start, (nuint)i);
            Vector256<byte> feed = Vector256.Equals(bytes, Vector256.Create((byte)'\n'));
            Vector256<byte> other = Vector256.Equals(bytes, Vector256.Create((byte)'\r'));
            Vector256<byte> printable = Vector256.LessThanOrEqual(bytes - Vector256.Create((byte)' '), Vector256.Create((byte)('~' - ' ')));
            if ((printable | feed | other | Vector256.Equals(bytes, Vector256.Create((byte)'\t'))) != Vector256<byte>.AllBitsSet)
            {
                return false;
            }

            feeds += BitOperations.PopCount(feed.ExtractMostSignificantBits());
            returns += BitOperations.PopCount(other.ExtractMostSignificantBits());
        }

        foreach (byte one in span[i..])
        {
            feeds += one == '\n' ? 1 : 0;
            returns += one == '\r' ? 1 : 0;
            if (one is not ((>= (byte)' ' and <= (byte)'~') or (byte)'\n' or (byte)'\r' or (byte)'\t'))
            {
                return false;
            }
        }

        return true;
    }
}
