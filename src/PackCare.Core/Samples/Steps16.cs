using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace PackCare.Core.Samples;

/// <summary>Sixteen differences of readings at a time, to their zig-zag codes and back.</summary>
internal static class Steps16
{
    /// <summary>How many.</summary>
    internal const int Count = 16;

    /// <summary>The codes of four readings' differences to the one before each.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static Vector256<ulong> Codes(ref long scaled, int i)
    {
        Vector256<long> difference = Vector256.LoadUnsafe(ref scaled, (nuint)i) - Vector256.LoadUnsafe(ref scaled, (nuint)(i - 1));
        return ((difference << 1) ^ Vector256.LessThan(difference, Vector256<long>.Zero)).AsUInt64();
    }

    /// <summary>Sixteen codes below 256 as bytes.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static Vector128<byte> Bytes(Vector256<ulong> a, Vector256<ulong> b, Vector256<ulong> c, Vector256<ulong> d)
    {
        Vector256<ushort> words = Vector256.Narrow(Vector256.Narrow(a, b), Vector256.Narrow(c, d));
        return Vector128.Narrow(words.GetLower(), words.GetUpper());
    }

    /// <summary>Adds the differences of sixteen codes below 128 up, from the reading before them on.</summary>
    /// <returns>The last of the readings.</returns>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static long AddUp(Vector128<byte> codes, long previous, ref long scaled)
    {
        (Vector128<short> first, Vector128<short> second) = Sums(codes);
        Vector256<long> before = Vector256.Create(previous);
        Store(first, before, ref scaled);
        Store(second, before, ref Unsafe.Add(ref scaled, 8));
        return previous + second[7];
    }

    /// <summary>The same, with the readings divided as binary fractions; needs <see cref="Fma"/>.</summary>
    /// <param name="codes">The codes.</param>
    /// <param name="previous">The reading before them, below 2^52 in size.</param>
    /// <param name="by">What they are divided by.</param>
    /// <param name="quotients">Receives them.</param>
    /// <returns>The last of the readings, undivided.</returns>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static long AddUp(Vector128<byte> codes, long previous, Divisor by, ref double quotients)
    {
        (Vector128<short> first, Vector128<short> second) = Sums(codes);
        Vector256<double> before = Vector256.Create((double)previous);
        Store(first, before, by, ref quotients);
        Store(second, before, by, ref Unsafe.Add(ref quotients, 8));
        return previous + second[7];
    }

    // What each is more than the reading before all of them.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static (Vector128<short> First, Vector128<short> Second) Sums(Vector128<byte> codes)
    {
        // No byte has its highest bit, so that halves may be taken two bytes at a time if what crosses over is masked out.
        Vector128<byte> half = (codes.AsUInt16() >>> 1).AsByte() & Vector128.Create((byte)0x3F);
        Vector128<sbyte> differences = half.AsSByte() ^ -(codes & Vector128.Create((byte)1)).AsSByte();
        Vector128<short> first = RunningSum(Vector128.WidenLower(differences));
        return (first, RunningSum(Vector128.WidenUpper(differences)) + Vector128.Create(first[7]));
    }

    // Sixteen differences of at most 64 add up to at most 1024.
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

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Store(Vector128<short> sums, Vector256<double> before, Divisor by, ref double target)
    {
        by.Quotients(Avx.ConvertToVector256Double(Vector128.WidenLower(sums)) + before).StoreUnsafe(ref target);
        by.Quotients(Avx.ConvertToVector256Double(Vector128.WidenUpper(sums)) + before).StoreUnsafe(ref target, 4);
    }
}
