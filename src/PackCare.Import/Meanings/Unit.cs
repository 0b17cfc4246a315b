namespace PackCare.Import.Meanings;

/// <summary>A unit as logs write it.</summary>
internal enum Unit
{
    None,
    Volt,
    Millivolt,
    Ampere,
    Milliampere,
    AmpereHour,
    MilliampereHour,
    AmpereSecond,
    WattHour,
    MilliwattHour,
    Watt,
    Milliwatt,
    Celsius,
    Fahrenheit,
    Kelvin,
    Ohm,
    Milliohm,
    Second,
    Millisecond,
    Microsecond,
    Minute,
    Hour,
    Day,
    MinuteSecond,
    HourMinute,
    HourMinuteSecond,
    Percent,
}
