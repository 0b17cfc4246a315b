namespace PackCare.Core.Units;

/// <summary>An electric current; into the pack (charging) is positive in amperes.</summary>
/// <param name="Value">The figure in amperes; any finite number.</param>
public readonly record struct Amperes(double Value) : IComparable<Amperes>
{
    /// <summary>The same quantity in milliamperes.</summary>
    public double Milliamperes => Value * 1000.0;

    /// <summary>Makes the quantity from a figure in milliamperes.</summary>
    public static Amperes FromMilliamperes(double value) => new(value / 1000.0);

    /// <summary>Sum of two like quantities.</summary>
    public static Amperes operator +(Amperes left, Amperes right) => new(left.Value + right.Value);

    /// <summary>Difference of two like quantities.</summary>
    public static Amperes operator -(Amperes left, Amperes right) => new(left.Value - right.Value);

    /// <summary>The quantity scaled by a plain number.</summary>
    public static Amperes operator *(Amperes left, double factor) => new(left.Value * factor);

    /// <summary>The ratio of two like quantities, a plain number.</summary>
    public static double operator /(Amperes left, Amperes right) => left.Value / right.Value;

    /// <summary>Whether the left is the smaller.</summary>
    public static bool operator <(Amperes left, Amperes right) => left.Value < right.Value;

    /// <summary>Whether the left is the larger.</summary>
    public static bool operator >(Amperes left, Amperes right) => left.Value > right.Value;

    /// <summary>Whether the left is not the larger.</summary>
    public static bool operator <=(Amperes left, Amperes right) => left.Value <= right.Value;

    /// <summary>Whether the left is not the smaller.</summary>
    public static bool operator >=(Amperes left, Amperes right) => left.Value >= right.Value;

    /// <inheritdoc/>
    public int CompareTo(Amperes other) => Value.CompareTo(other.Value);

    /// <summary>The charge that this current moves in the given time.</summary>
    public static AmpereHours operator *(Amperes current, TimeSpan time) => new(current.Value * time.TotalHours);
}
