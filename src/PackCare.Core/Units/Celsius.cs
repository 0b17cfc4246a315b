namespace PackCare.Core.Units;

/// <summary>A temperature in degrees Celsius; points on a scale, so they neither add nor multiply.</summary>
/// <param name="Value">The figure in degrees Celsius; not below -273.15.</param>
public readonly record struct Celsius(double Value) : IComparable<Celsius>
{
    /// <summary>Absolute zero is this many kelvins below 0 degrees Celsius (exact by definition of the scale).</summary>
    public const double KelvinOffset = 273.15;

    /// <summary>The thermodynamic temperature in kelvins.</summary>
    public double Kelvins => Value + KelvinOffset;

    /// <summary>The same temperature in degrees Fahrenheit.</summary>
    public double Fahrenheit => (Value * 9 / 5) + 32;

    /// <summary>Makes the temperature from degrees Fahrenheit.</summary>
    public static Celsius FromFahrenheit(double value) => new((value - 32) * 5 / 9);

    /// <summary>The difference of two temperatures in kelvins.</summary>
    public static double operator -(Celsius left, Celsius right) => left.Value - right.Value;

    /// <summary>Whether the left is the colder.</summary>
    public static bool operator <(Celsius left, Celsius right) => left.Value < right.Value;

    /// <summary>Whether the left is the warmer.</summary>
    public static bool operator >(Celsius left, Celsius right) => left.Value > right.Value;

    /// <summary>Whether the left is not the warmer.</summary>
    public static bool operator <=(Celsius left, Celsius right) => left.Value <= right.Value;

    /// <summary>Whether the left is not the colder.</summary>
    public static bool operator >=(Celsius left, Celsius right) => left.Value >= right.Value;

    /// <inheritdoc/>
    public int CompareTo(Celsius other) => Value.CompareTo(other.Value);
}
