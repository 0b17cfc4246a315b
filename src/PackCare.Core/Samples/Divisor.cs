using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace PackCare.Core.Samples;

/// <summary>A whole number that many whole numbers are divided by, to quotients that are rounded as division rounds.</summary>
internal readonly struct Divisor
{
    private readonly Vector256<double> _by;
    private readonly Vector256<double> _inverse;

    /// <param name="value">The number; see <see cref="IsSuited"/>.</param>
    internal Divisor(double value) => (_by, _inverse) = (Vector256.Create(value), Vector256.Create(1 / value));

    /// <summary>Whether a number is one that this divides by, on this processor.</summary>
    internal static bool IsSuited(double value) => Fma.IsSupported && value is > 0 and <= 1e15 && Math.Floor(value) == value;

    /// <summary>Four whole numbers divided.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal Vector256<double> Quotients(Vector256<double> dividends)
    {
        // What the product with the inverse leaves of the dividend is exact, so that one step of it rounds as division does. (A quotient
        // of whole numbers is no nearer to the middle between two binary fractions than a part of 2 divisor, and this errs by 2^-52 of one.)
        Vector256<double> about = dividends * _inverse;
        return Fma.MultiplyAdd(Fma.MultiplyAddNegated(about, _by, dividends), _inverse, about);
    }
}
