namespace PackCare.Core.Units;

/// <summary>An electric potential difference in volts.</summary>
/// <param name="Value">The figure in volts; any finite number.</param>
public readonly record struct Volts(double Value) : IComparable<Volts>
{
    /// <summary>The same quantity in millivolts.</summary>
    public double Millivolts => Value * 1000.0;

    /// <summary>Makes the quantity from a figure in millivolts.</summary>
    public static Volts FromMillivolts(double value) => new(value / 1000.0);

    /// <summary>Sum of two like quantities.</summary>
    public static Volts operator +(Volts left, Volts right) => new(left.Value + right.Value);

    /// <summary>Difference of two like quantities.</summary>
    public static Volts operator -(Volts left, Volts right) => new(left.Value - right.Value);

    /// <summary>The quantity scaled by a plain number.</summary>
    public static Volts operator *(Volts left, double factor) => new(left.Value * factor);

    /// <summary>The ratio of two like quantities, a plain number.</summary>
    public static double operator /(Volts left, Volts right) => left.Value / right.Value;

    /// <summary>Whether the left is the smaller.</summary>
    public static bool operator <(Volts left, Volts right) => left.Value < right.Value;

    /// <summary>Whether the left is the larger.</summary>
    public static bool operator >(Volts left, Volts right) => left.Value > right.Value;

    /// <summary>Whether the left is not the larger.</summary>
    public static bool operator <=(Volts left, Volts right) => left.Value <= right.Value;

    /// <summary>Whether the left is not the smaller.</summary>
    public static bool operator >=(Volts left, Volts right) => left.Value >= right.Value;

    /// <inheritdoc/>
    public int CompareTo(Volts other) => Value.CompareTo(other.Value);

    /// <summary>The resistance that drops this voltage at the given current (Ohm's law).</summary>
    public static Ohms operator /(Volts drop, Amperes current) => new(drop.Value / current.Value);
}
