using System.Numerics;

namespace PackCare.Simulation;

/// <summary>
/// Seeded random numbers that are the same on every platform and framework version: xoshiro256** seeded through
/// splitmix64 (Blackman and Vigna, "Scrambled linear pseudorandom number generators", ACM TOMS 47(4), 2021).
/// </summary>
public sealed class Randomness
{
    private ulong _a;
    private ulong _b;
    private ulong _c;
    private ulong _d;

    /// <summary>Starts a stream.</summary>
    /// <param name="seed">Any value; the same seed gives the same stream.</param>
    public Randomness(ulong seed)
    {
        _a = SplitMix(ref seed);
        _b = SplitMix(ref seed);
        _c = SplitMix(ref seed);
        _d = SplitMix(ref seed);
    }

    /// <summary>Starts a stream of its own for something named, so that a change in one place does not shift all others.</summary>
    /// <param name="seed">The seed of the whole.</param>
    /// <param name="name">What the stream is for; compared by its UTF-16 code units.</param>
    public static Randomness For(ulong seed, string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        // FNV-1a, 64 bits: string.GetHashCode differs between runs.
        var hash = 14695981039346656037UL;
        foreach (var unit in name)
        {
            hash = (hash ^ unit) * 1099511628211UL;
        }

        return new Randomness(seed ^ hash);
    }

    /// <summary>The next 64 bits.</summary>
    public ulong NextBits()
    {
        var result = BitOperations.RotateLeft(_b * 5, 7) * 9;
        var t = _b << 17;
        _c ^= _a;
        _d ^= _b;
        _b ^= _c;
        _a ^= _d;
        _c ^= t;
        _d = BitOperations.RotateLeft(_d, 45);
        return result;
    }

    /// <summary>Uniform in [0, 1), a multiple of 2^-53.</summary>
    public double NextUniform() => (NextBits() >> 11) * (1.0 / (1UL << 53));

    /// <summary>Uniform in [low, high).</summary>
    /// <param name="low">Lowest value.</param>
    /// <param name="high">Upper end, not reached.</param>
    public double NextBetween(double low, double high) => low + ((high - low) * NextUniform());

    /// <summary>
    /// Bell-shaped with mean 0 and standard deviation 1: the sum of twelve uniforms less six. It ends at six standard
    /// deviations and needs no logarithm, whose last bit differs between platforms.
    /// </summary>
    public double NextNormal()
    {
        // Two 32-bit uniforms from each draw.
        ulong sum = 0;
        for (var draw = 0; draw < 6; draw++)
        {
            var bits = NextBits();
            sum += (bits >> 32) + (bits & 0xFFFFFFFF);
        }

        return (sum * (1.0 / 4294967296.0)) - 6.0;
    }

    private static ulong SplitMix(ref ulong state)
    {
        state += 0x9E3779B97F4A7C15UL;
        var z = state;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
        return z ^ (z >> 31);
    }
}
