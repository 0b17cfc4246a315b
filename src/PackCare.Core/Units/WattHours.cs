namespace PackCare.Core.Units;

/// <summary>An energy in watt hours.</summary>
/// <param name="Value">The figure in watt hours; any finite number.</param>
public readonly record struct WattHours(double Value) : IComparable<WattHours>
{
    /// <summary>The same quantity in kilojoules.</summary>
    public double Kilojoules => Value * 3.6;

    /// <summary>Makes the quantity from a figure in kilojoules.</summary>
    public static WattHours FromKilojoules(double value) => new(value / 3.6);

    /// <summary>Sum of two like quantities.</summary>
    public static WattHours operator +(WattHours left, WattHours right) => new(left.Value + right.Value);

    /// <summary>Difference of two like quantities.</summary>
    public static WattHours operator -(WattHours left, WattHours right) => new(left.Value - right.Value);

    /// <summary>The quantity scaled by a plain number.</summary>
    public static WattHours operator *(WattHours left, double factor) => new(left.Value * factor);

    /// <summary>The ratio of two like quantities, a plain number.</summary>
    public static double operator /(WattHours left, WattHours right) => left.Value / right.Value;

    /// <summary>Whether the left is the smaller.</summary>
    public static bool operator <(WattHours left, WattHours right) => left.Value < right.Value;

    /// <summary>Whether the left is the larger.</summary>
    public static bool operator >(WattHours left, WattHours right) => left.Value > right.Value;

    /// <summary>Whether the left is not the larger.</summary>
    public static bool operator <=(WattHours left, WattHours right) => left.Value <= right.Value;

    /// <summary>Whether the left is not the smaller.</summary>
    public static bool operator >=(WattHours left, WattHours right) => left.Value >= right.Value;

    /// <inheritdoc/>
    public int CompareTo(WattHours other) => Value.CompareTo(other.Value);
}
