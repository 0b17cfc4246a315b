namespace PackCare.Import.Meanings;

/// <summary>Knows units by their marks, by the rules of the SI and by what plain ASCII leaves of them.</summary>
internal static class UnitMarks
{
    private static readonly Dictionary<string, Unit> Marks = new(StringComparer.Ordinal)
    {
        ["v"] = Unit.Volt, ["volt"] = Unit.Volt, ["volts"] = Unit.Volt, ["вольт"] = Unit.Volt, ["в"] = Unit.Volt,
        ["mv"] = Unit.Millivolt, ["millivolt"] = Unit.Millivolt, ["millivolts"] = Unit.Millivolt, ["мв"] = Unit.Millivolt,
        ["uv"] = Unit.Microvolt, ["µv"] = Unit.Microvolt, ["μv"] = Unit.Microvolt, ["microvolt"] = Unit.Microvolt, ["microvolts"] = Unit.Microvolt,
        ["a"] = Unit.Ampere, ["amp"] = Unit.Ampere, ["amps"] = Unit.Ampere, ["ampere"] = Unit.Ampere, ["amperes"] = Unit.Ampere, ["ампер"] = Unit.Ampere, ["а"] = Unit.Ampere,
        ["ma"] = Unit.Milliampere, ["milliamp"] = Unit.Milliampere, ["milliamps"] = Unit.Milliampere, ["milliampere"] = Unit.Milliampere, ["milliamperes"] = Unit.Milliampere, ["ма"] = Unit.Milliampere,
        ["ua"] = Unit.Microampere, ["µa"] = Unit.Microampere, ["μa"] = Unit.Microampere, ["microamp"] = Unit.Microampere, ["microamps"] = Unit.Microampere, ["microampere"] = Unit.Microampere, ["microamperes"] = Unit.Microampere,
        ["ah"] = Unit.AmpereHour, ["a·h"] = Unit.AmpereHour, ["a*h"] = Unit.AmpereHour, ["a.h"] = Unit.AmpereHour, ["ач"] = Unit.AmpereHour, ["а·ч"] = Unit.AmpereHour, ["ampere hours"] = Unit.AmpereHour, ["amp hours"] = Unit.AmpereHour, ["amphours"] = Unit.AmpereHour, ["amp-hours"] = Unit.AmpereHour, ["amperestunden"] = Unit.AmpereHour, ["amperehours"] = Unit.AmpereHour,
        ["mah"] = Unit.MilliampereHour, ["milliamp hours"] = Unit.MilliampereHour, ["milliampere hours"] = Unit.MilliampereHour, ["milliamphours"] = Unit.MilliampereHour, ["milliamp-hours"] = Unit.MilliampereHour, ["milliamperestunden"] = Unit.MilliampereHour, ["ma·h"] = Unit.MilliampereHour, ["ma*h"] = Unit.MilliampereHour, ["ma.h"] = Unit.MilliampereHour, ["мач"] = Unit.MilliampereHour, ["ма·ч"] = Unit.MilliampereHour,
        ["uah"] = Unit.MicroampereHour, ["µah"] = Unit.MicroampereHour, ["μah"] = Unit.MicroampereHour,
        ["as"] = Unit.AmpereSecond, ["a·s"] = Unit.AmpereSecond, ["a*s"] = Unit.AmpereSecond, ["coulomb"] = Unit.AmpereSecond, ["coulombs"] = Unit.AmpereSecond,
        ["wh"] = Unit.WattHour, ["w·h"] = Unit.WattHour, ["w*h"] = Unit.WattHour, ["вт·ч"] = Unit.WattHour, ["втч"] = Unit.WattHour,
        ["mwh"] = Unit.MilliwattHour,
        ["w"] = Unit.Watt, ["watt"] = Unit.Watt, ["watts"] = Unit.Watt, ["вт"] = Unit.Watt,
        ["mw"] = Unit.Milliwatt,
        ["°c"] = Unit.Celsius, ["ºc"] = Unit.Celsius, ["℃"] = Unit.Celsius, ["c"] = Unit.Celsius, ["degc"] = Unit.Celsius, ["deg c"] = Unit.Celsius, ["deg_c"] = Unit.Celsius, ["celsius"] = Unit.Celsius, ["grad c"] = Unit.Celsius, ["gradc"] = Unit.Celsius, ["°с"] = Unit.Celsius, ["\ufffdc"] = Unit.Celsius,
        ["°f"] = Unit.Fahrenheit, ["ºf"] = Unit.Fahrenheit, ["℉"] = Unit.Fahrenheit, ["f"] = Unit.Fahrenheit, ["degf"] = Unit.Fahrenheit, ["deg f"] = Unit.Fahrenheit, ["fahrenheit"] = Unit.Fahrenheit, ["\ufffdf"] = Unit.Fahrenheit,
        ["k"] = Unit.Kelvin, ["kelvin"] = Unit.Kelvin,
        ["ω"] = Unit.Ohm, ["ohm"] = Unit.Ohm, ["ohms"] = Unit.Ohm, ["ом"] = Unit.Ohm,
        ["mω"] = Unit.Milliohm, ["mohm"] = Unit.Milliohm, ["mohms"] = Unit.Milliohm, ["milliohm"] = Unit.Milliohm, ["milliohms"] = Unit.Milliohm, ["мом"] = Unit.Milliohm, ["mr"] = Unit.Milliohm,
        ["uω"] = Unit.Microohm, ["µω"] = Unit.Microohm, ["μω"] = Unit.Microohm, ["uohm"] = Unit.Microohm, ["µohm"] = Unit.Microohm, ["μohm"] = Unit.Microohm,
        ["s"] = Unit.Second, ["sec"] = Unit.Second, ["secs"] = Unit.Second, ["second"] = Unit.Second, ["seconds"] = Unit.Second, ["sek"] = Unit.Second, ["sek."] = Unit.Second, ["sec."] = Unit.Second, ["sekunden"] = Unit.Second, ["sekunde"] = Unit.Second, ["secondes"] = Unit.Second, ["segundos"] = Unit.Second, ["secondi"] = Unit.Second, ["seconden"] = Unit.Second, ["с"] = Unit.Second, ["сек"] = Unit.Second, ["秒"] = Unit.Second, ["sekundy"] = Unit.Second,
        ["ms"] = Unit.Millisecond, ["msec"] = Unit.Millisecond, ["millis"] = Unit.Millisecond, ["millisec"] = Unit.Millisecond, ["millisecond"] = Unit.Millisecond, ["milliseconds"] = Unit.Millisecond, ["мс"] = Unit.Millisecond, ["millisekunden"] = Unit.Millisecond,
        ["us"] = Unit.Microsecond, ["µs"] = Unit.Microsecond, ["μs"] = Unit.Microsecond, ["microseconds"] = Unit.Microsecond,
        ["min"] = Unit.Minute, ["min."] = Unit.Minute, ["mins"] = Unit.Minute, ["minute"] = Unit.Minute, ["minutes"] = Unit.Minute, ["minuten"] = Unit.Minute, ["minuter"] = Unit.Minute, ["minutter"] = Unit.Minute, ["minuti"] = Unit.Minute, ["minutos"] = Unit.Minute, ["мин"] = Unit.Minute, ["分"] = Unit.Minute,
        ["h"] = Unit.Hour, ["hr"] = Unit.Hour, ["hrs"] = Unit.Hour, ["hour"] = Unit.Hour, ["hours"] = Unit.Hour, ["std"] = Unit.Hour, ["std."] = Unit.Hour, ["stunden"] = Unit.Hour, ["heures"] = Unit.Hour, ["horas"] = Unit.Hour, ["ore"] = Unit.Hour, ["uren"] = Unit.Hour, ["ч"] = Unit.Hour,
        ["d"] = Unit.Day, ["day"] = Unit.Day, ["days"] = Unit.Day, ["tage"] = Unit.Day, ["jours"] = Unit.Day, ["dagen"] = Unit.Day, ["dagar"] = Unit.Day,
        ["mm:ss"] = Unit.MinuteSecond, ["m:ss"] = Unit.MinuteSecond, ["min:s"] = Unit.MinuteSecond, ["min:sec"] = Unit.MinuteSecond, ["mmm:ss"] = Unit.MinuteSecond, ["min:ss"] = Unit.MinuteSecond, ["mm:ss.f"] = Unit.MinuteSecond, ["mm:ss,f"] = Unit.MinuteSecond,
        ["hh:mm"] = Unit.HourMinute, ["h:mm"] = Unit.HourMinute, ["h:min"] = Unit.HourMinute,
        ["hh:mm:ss"] = Unit.HourMinuteSecond, ["h:mm:ss"] = Unit.HourMinuteSecond, ["h:m:s"] = Unit.HourMinuteSecond, ["hh:mm:ss.fff"] = Unit.HourMinuteSecond, ["hh:mm:ss,fff"] = Unit.HourMinuteSecond, ["hh:mm:ss.sss"] = Unit.HourMinuteSecond, ["hms"] = Unit.HourMinuteSecond,
        ["%"] = Unit.Percent, ["percent"] = Unit.Percent, ["prozent"] = Unit.Percent,
    };

    /// <summary>The unit that a text is, or <see cref="Unit.None"/>.</summary>
    internal static Unit Parse(string text)
    {
        string mark = text.Trim().Trim('[', ']', '(', ')', '{', '}', '/', ' ').Replace("Ω", "ω", StringComparison.Ordinal).Replace("Ω", "ω", StringComparison.Ordinal).Trim();
        return Marks.GetValueOrDefault(mark.ToLowerInvariant());
    }

    /// <summary>Whether a field of a unit row gives a unit, or says that there is none.</summary>
    internal static bool IsUnitField(string field) => Parse(field) != Unit.None || field.Trim() is "-" or "[-]" or "(-)" or "1" or "#" || field.Trim() is "[]" or "()" || IsTimePattern(field);

    /// <summary>What a unit measures.</summary>
    internal static Quantity QuantityOf(Unit unit) => unit switch
    {
        Unit.Volt or Unit.Millivolt or Unit.Microvolt => Quantity.Voltage,
        Unit.Ampere or Unit.Milliampere or Unit.Microampere => Quantity.Current,
        Unit.AmpereHour or Unit.MilliampereHour or Unit.MicroampereHour or Unit.AmpereSecond => Quantity.Charge,
        Unit.WattHour or Unit.MilliwattHour => Quantity.Energy,
        Unit.Watt or Unit.Milliwatt => Quantity.Power,
        Unit.Celsius or Unit.Fahrenheit or Unit.Kelvin => Quantity.Temperature,
        Unit.Ohm or Unit.Milliohm or Unit.Microohm => Quantity.Resistance,
        Unit.Second or Unit.Millisecond or Unit.Microsecond or Unit.Minute or Unit.Hour or Unit.Day or Unit.MinuteSecond or Unit.HourMinuteSecond or Unit.HourMinute => Quantity.Elapsed,
        Unit.Percent => Quantity.Other,
        _ => Quantity.Unknown,
    };

    /// <summary>The mark by which a unit is shown.</summary>
    internal static string? Symbol(Unit unit) => unit switch
    {
        Unit.Volt => "V",
        Unit.Millivolt => "mV",
        Unit.Microvolt => "µV",
        Unit.Ampere => "A",
        Unit.Milliampere => "mA",
        Unit.Microampere => "µA",
        Unit.AmpereHour => "Ah",
        Unit.MilliampereHour => "mAh",
        Unit.MicroampereHour => "µAh",
        Unit.AmpereSecond => "As",
        Unit.WattHour => "Wh",
        Unit.MilliwattHour => "mWh",
        Unit.Watt => "W",
        Unit.Milliwatt => "mW",
        Unit.Celsius => "°C",
        Unit.Fahrenheit => "°F",
        Unit.Kelvin => "K",
        Unit.Ohm => "Ω",
        Unit.Milliohm => "mΩ",
        Unit.Microohm => "µΩ",
        Unit.Second => "s",
        Unit.Millisecond => "ms",
        Unit.Microsecond => "µs",
        Unit.Minute => "min",
        Unit.Hour => "h",
        Unit.Day => "d",
        Unit.MinuteSecond => "mm:ss",
        Unit.HourMinute => "hh:mm",
        Unit.HourMinuteSecond => "hh:mm:ss",
        Unit.Percent => "%",
        _ => null,
    };

    /// <summary>By how many decimals a number in this unit shifts to reach the base unit.</summary>
    internal static int DecimalShift(Unit unit) => unit switch
    {
        Unit.Millivolt or Unit.Milliampere or Unit.MilliampereHour or Unit.MilliwattHour or Unit.Milliwatt or Unit.Milliohm or Unit.Millisecond => 3,
        Unit.Microvolt or Unit.Microampere or Unit.MicroampereHour or Unit.Microohm or Unit.Microsecond => 6,
        _ => 0,
    };

    /// <summary>The value of one of this unit in the base unit.</summary>
    internal static double Factor(Unit unit) => unit switch
    {
        Unit.Minute => 60,
        Unit.Hour => 3600,
        Unit.Day => 86_400,
        Unit.AmpereSecond => 1 / 3600.0,
        _ => Math.Pow(10, -DecimalShift(unit)),
    };

    private static bool IsTimePattern(string field)
    {
        string text = field.Trim().Trim('[', ']', '(', ')');
        return text.Length >= 4 && text.Any(char.IsLetter) && text.All(c => c is 'y' or 'Y' or 'm' or 'M' or 'd' or 'D' or 'h' or 'H' or 's' or 'S' or 'f' or 'T' or 'J' or 'j' or 't' or ':' or '-' or '.' or ',' or '/' or ' ');
    }
}
