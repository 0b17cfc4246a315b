namespace PackCare.Core.Units;

/// <summary>An electric resistance in ohms.</summary>
/// <param name="Value">The figure in ohms; any finite number.</param>
public readonly record struct Ohms(double Value) : IComparable<Ohms>
{
    /// <summary>The same quantity in milliohms.</summary>
    public double Milliohms => Value * 1000.0;

    /// <summary>Makes the quantity from a figure in milliohms.</summary>
    public static Ohms FromMilliohms(double value) => new(value / 1000.0);

    /// <summary>Sum of two like quantities.</summary>
    public static Ohms operator +(Ohms left, Ohms right) => new(left.Value + right.Value);

    /// <summary>Difference of two like quantities.</summary>
    public static Ohms operator -(Ohms left, Ohms right) => new(left.Value - right.Value);

    /// <summary>The quantity scaled by a plain number.</summary>
    public static Ohms operator *(Ohms left, double factor) => new(left.Value * factor);

    /// <summary>The ratio of two like quantities, a plain number.</summary>
    public static double operator /(Ohms left, Ohms right) => left.Value / right.Value;

    /// <summary>Whether the left is the smaller.</summary>
    public static bool operator <(Ohms left, Ohms right) => left.Value < right.Value;

    /// <summary>Whether the left is the larger.</summary>
    public static bool operator >(Ohms left, Ohms right) => left.Value > right.Value;

    /// <summary>Whether the left is not the larger.</summary>
    public static bool operator <=(Ohms left, Ohms right) => left.Value <= right.Value;

    /// <summary>Whether the left is not the smaller.</summary>
    public static bool operator >=(Ohms left, Ohms right) => left.Value >= right.Value;

    /// <inheritdoc/>
    public int CompareTo(Ohms other) => Value.CompareTo(other.Value);

    /// <summary>The voltage that drops over this resistance at the given current (Ohm's law).</summary>
    public static Volts operator *(Ohms resistance, Amperes current) => new(resistance.Value * current.Value);
}
