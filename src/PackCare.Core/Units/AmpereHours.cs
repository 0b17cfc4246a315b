namespace PackCare.Core.Units;

/// <summary>An electric charge, or a capacity in ampere hours.</summary>
/// <param name="Value">The figure in ampere hours; any finite number.</param>
public readonly record struct AmpereHours(double Value) : IComparable<AmpereHours>
{
    /// <summary>The same quantity in milliampere hours.</summary>
    public double MilliampereHours => Value * 1000.0;

    /// <summary>Makes the quantity from a figure in milliampere hours.</summary>
    public static AmpereHours FromMilliampereHours(double value) => new(value / 1000.0);

    /// <summary>Sum of two like quantities.</summary>
    public static AmpereHours operator +(AmpereHours left, AmpereHours right) => new(left.Value + right.Value);

    /// <summary>Difference of two like quantities.</summary>
    public static AmpereHours operator -(AmpereHours left, AmpereHours right) => new(left.Value - right.Value);

    /// <summary>The quantity scaled by a plain number.</summary>
    public static AmpereHours operator *(AmpereHours left, double factor) => new(left.Value * factor);

    /// <summary>The ratio of two like quantities, a plain number.</summary>
    public static double operator /(AmpereHours left, AmpereHours right) => left.Value / right.Value;

    /// <summary>Whether the left is the smaller.</summary>
    public static bool operator <(AmpereHours left, AmpereHours right) => left.Value < right.Value;

    /// <summary>Whether the left is the larger.</summary>
    public static bool operator >(AmpereHours left, AmpereHours right) => left.Value > right.Value;

    /// <summary>Whether the left is not the larger.</summary>
    public static bool operator <=(AmpereHours left, AmpereHours right) => left.Value <= right.Value;

    /// <summary>Whether the left is not the smaller.</summary>
    public static bool operator >=(AmpereHours left, AmpereHours right) => left.Value >= right.Value;

    /// <inheritdoc/>
    public int CompareTo(AmpereHours other) => Value.CompareTo(other.Value);

    /// <summary>The energy of this charge at the given voltage; with rated capacity and nominal voltage, the rated energy of 49 CFR 171.8.</summary>
    public static WattHours operator *(AmpereHours charge, Volts potential) => new(charge.Value * potential.Value);
}
