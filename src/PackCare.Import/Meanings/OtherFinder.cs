using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Gives current, charge, energy, power, temperature, resistance, mode, label and session columns their meaning by header.</summary>
internal static class OtherFinder
{
    /// <summary>Goes by the headers; units that they leave open are settled later.</summary>
    internal static void FindByHeader(LogColumns columns)
    {
        int sensor = 0;
        NumberResistances(columns);
        foreach (ColumnRole role in columns.Roles.Where(role => !role.IsUsed))
        {
            HeaderHint hint = role.Hint;
            bool numeric = role.Profile is { Count: > 0 };
            if (hint.IsDerived)
            {
                role.Why = "its header names a limit, a mean, a difference or a supply, not something measured at the pack";
                continue;
            }

            if (IsUnreadable(columns, role))
            {
                continue;
            }

            if (role.Profile is { Count: 0 } || (role.Profile is null && role.Column.Present == 0))
            {
                role.Why = "it is empty";
                continue;
            }

            switch (hint.Quantity)
            {
                case Quantity.Current when numeric:
                    role.Take(ColumnMeaning.Current, hint.Unit, null, "its header names a current");
                    break;
                case Quantity.Charge when numeric && hint.Unit == Unit.AmpereSecond:
                    // A 3600th has no end of decimals: it could not be stored to the last digit.
                    role.Why = "a charge in ampere-seconds, which the current gives as well; left out";
                    columns.Notice("charge-unit", 0, role, "a charge in ampere-seconds", "the column was left out; log it in Ah or mAh to have it kept");
                    break;
                case Quantity.Charge when numeric && hint.IsOut && role.Profile!.IsConstantZero && !columns.Roles.Any(other => other.Hint is { Quantity: Quantity.Charge, IsIn: true }):
                    role.Why = "a counter of discharging that stays at nought; left out";
                    break;
                case Quantity.Charge when numeric:
                    role.Take(ColumnMeaning.Charge, hint.Unit, null, "its header names a charge");
                    break;
                case Quantity.Energy when numeric:
                    role.Take(ColumnMeaning.Energy, hint.Unit, null, "its header names an energy");
                    break;
                case Quantity.Power when numeric:
                    role.Take(ColumnMeaning.Power, hint.Unit, null, "its header names a power; not stored, voltage and current give it");
                    break;
                case Quantity.Temperature when numeric:
                    Temperature(columns, role, ref sensor);
                    break;
                case Quantity.Elapsed when numeric && hint is { IsBare: true } && LooksLikeTemperature(role):
                    Temperature(columns, role, ref sensor);
                    break;
                case Quantity.Resistance when numeric && hint.Number is not null:
                    Resistance(columns, role);
                    break;
                case Quantity.Mode when role.Column.Shape == ColumnShape.Text:
                    role.Take(ColumnMeaning.Mode, Unit.None, null, "its header names a mode and its fields are words");
                    break;
                case Quantity.PackLabel when role.Column.Shape == ColumnShape.Text && !role.Column.TooManyWords:
                    role.Take(ColumnMeaning.PackLabel, Unit.None, null, "its header names the pack and its fields are words");
                    break;
                case Quantity.PackLabel when numeric && hint.IsPack && role.Column.MaxDecimals == 0 && (role.Profile!.Rises + role.Profile.Falls < role.Profile.Count / 2.0 || IsFewNumbers(role)):
                    role.Take(ColumnMeaning.PackLabel, Unit.None, null, "its header names the pack and its numbers are few or seldom change");
                    break;
                case Quantity.Session when numeric && role.Column.MaxDecimals == 0 && role.Profile!.Rises + role.Profile.Falls <= role.Profile.Count / 2.0:
                    role.Take(ColumnMeaning.SessionNumber, Unit.None, null, "its header names a session or cycle and its numbers seldom change");
                    break;
                case Quantity.Session when role.Column is { Shape: ColumnShape.Text, TooManyWords: false } && role.Column.Words.Count * 4 <= role.Column.Present:
                    role.Take(ColumnMeaning.SessionNumber, Unit.None, null, "its header names a session or cycle and its words seldom change");
                    break;
                case Quantity.Unknown when role.Column.Shape == ColumnShape.Text && role.Column.Words.Count is >= 1 and <= 20 && role.Column.Words.All(word => ModeWords.DirectionOf(word) is not null):
                    role.Take(ColumnMeaning.Mode, Unit.None, null, "its fields are words for charging, discharging and rest");
                    break;
                case Quantity.Other:
                    role.Why = "its header names a row number, a share or the like";
                    break;
            }
        }

        NumberSensors(columns);
        var resistances = columns.OfMeaning(ColumnMeaning.CellResistance).ToList();
        if (resistances.Count > 0)
        {
            int least = resistances.Min(role => role.Number!.Value);
            foreach (ColumnRole role in resistances)
            {
                role.Number = role.Number - least + 1;
            }

            if (least > 1 || resistances.Select(role => role.Number).Distinct().Count() != resistances.Count)
            {
                foreach (ColumnRole role in resistances)
                {
                    role.Take(ColumnMeaning.Ignored, Unit.None, null, "resistances whose cell numbers are unclear; left out");
                }
            }
        }
    }

    // Numbers in a form that is not known under a header that promises a current or the like: without it the log would tell another story.
    private static bool IsUnreadable(LogColumns columns, ColumnRole role)
    {
        if (role.Hint is not { IsBare: false, Quantity: Quantity.Current or Quantity.Charge or Quantity.Energy or Quantity.Temperature or Quantity.Voltage } || role.Column is not { Shape: ColumnShape.Text, Present: > 0 })
        {
            return false;
        }

        // Words such as a device writes without a sensor; where one direction has its word throughout, the column is a mode.
        if (role.Column.Words.All(word => !word.Any(char.IsAsciiDigit)))
        {
            if (!role.Column.Words.All(word => ModeWords.DirectionOf(word) is not null))
            {
                role.Why = $"words such as \"{Refusals.Snippet(role.Column.Words[0])}\" where numbers are due; left out";
                columns.Notice("no-numbers", 0, role, $"a column headed \"{role.Header}\" that holds words, not numbers", "the column was left out");
                return true;
            }

            return false;
        }

        bool[] bad = [.. role.Column.Words.Select(word => !columns.Dialect.IsNumber(word))];
        int first = Array.IndexOf(bad, true);
        columns.Refuse(
            "not-a-number", first < 0 ? 0 : LogColumns.FirstRow(role, 1, word => word == first), role, $"\"{Refusals.Snippet(role.Column.Words[Math.Max(0, first)])}\" where a number is due",
            "correct that value, or clear it if there was no reading");
        return true;
    }

    // Whole numbers of which each comes again and again, as packs do that take turns.
    private static bool IsFewNumbers(ColumnRole role)
    {
        var numbers = new HashSet<double>();
        for (int b = 0; b < role.Values.Count; b++)
        {
            foreach (double value in LogColumns.Values(role, b, 1))
            {
                if (numbers.Add(value) && numbers.Count > 64)
                {
                    return false;
                }
            }
        }

        return numbers.Count * 4 <= role.Profile!.Count;
    }

    // "Resistance cell A", "resistance cell B".
    private static void NumberResistances(LogColumns columns)
    {
        List<ColumnRole> lettered = [.. columns.Roles.Where(role => role is { IsUsed: false, Profile.Count: > 0, Hint: { Quantity: Quantity.Resistance, Number: null, IsDerived: false } } && HeaderWords.LetterOf(role.Header) > 0)];
        if (CellPlaces.LettersOf(lettered) is { } letters)
        {
            foreach ((int place, ColumnRole role) in lettered.Index())
            {
                role.Hint = role.Hint with { Number = letters[place] };
            }
        }
    }

    // "Temperature 2" beside "temperature 1", in whatever order.
    private static void NumberSensors(LogColumns columns)
    {
        List<ColumnRole> sensors = [.. columns.OfMeaning(ColumnMeaning.Temperature)];
        if (sensors.Count > 1 && sensors.TrueForAll(role => role.Hint.Number is not null) && sensors.Select(role => role.Hint.Number).Distinct().Count() == sensors.Count)
        {
            foreach ((int place, ColumnRole role) in sensors.OrderBy(role => role.Hint.Number).Index())
            {
                role.Take(ColumnMeaning.Temperature, role.Unit, place + 1, role.Why);
            }
        }
    }

    private static bool LooksLikeTemperature(ColumnRole role) => role.Profile is { Min: > -30, Max: < 100 } p && p.LargestStep <= 5;

    private static void Temperature(LogColumns columns, ColumnRole role, ref int sensor)
    {
        NumberProfile profile = role.Profile!;
        Unit unit = role.Hint.Unit;
        if (unit == Unit.None)
        {
            if (profile.Min > 250 && profile.Max < 370)
            {
                unit = Unit.Kelvin;
            }
            else if (profile.Max > 55 && profile.Min > 32)
            {
                role.Why = "a temperature that could be °C or °F; left out";
                columns.Notice("temperature-unit", null, role, "a temperature that could be °C or °F", "state the unit in the header; the column was left out");
                return;
            }
            else
            {
                unit = Unit.Celsius;
            }
        }

        double low = ToCelsius(profile.Min, unit);
        double high = ToCelsius(profile.Max, unit);
        if (profile.IsConstant && (low < -45 || high > 150))
        {
            role.Why = "no sensor is connected: one impossible value throughout";
            columns.Notice("no-sensor", null, role, string.Create(CultureInfo.InvariantCulture, $"a temperature of {profile.Min:0.#} throughout"), "the column was left out");
            return;
        }

        role.Take(ColumnMeaning.Temperature, unit, ++sensor, role.Hint.Unit == Unit.None
            ? string.Create(CultureInfo.InvariantCulture, $"its header names a temperature and {profile.Min:0.#} to {profile.Max:0.#} can only be {UnitMarks.Symbol(unit)}")
            : $"its header names a temperature in {UnitMarks.Symbol(unit)}");
    }

    internal static double ToCelsius(double value, Unit unit) => unit switch
    {
        Unit.Fahrenheit => (value - 32) * 5 / 9,
        Unit.Kelvin => value - 273.15,
        _ => value,
    };

    private static void Resistance(LogColumns columns, ColumnRole role)
    {
        NumberProfile profile = role.Profile!;
        Unit unit = role.Hint.Unit;
        if (unit == Unit.None)
        {
            unit = profile.Max < 0.2 ? Unit.Ohm : profile.Max >= 1 ? Unit.Milliohm : Unit.None;
        }

        double factor = UnitMarks.Factor(unit);
        if (unit == Unit.None || profile.Min < 0 || profile.Max * factor > 2)
        {
            role.Why = "a resistance whose unit is unclear; left out";
            columns.Notice("resistance-unit", null, role, "a resistance whose unit is unclear", "state the unit in the header; the column was left out");
            return;
        }

        role.Take(ColumnMeaning.CellResistance, unit, role.Hint.Number, $"its header names the resistance of a cell{(role.Hint.Unit == Unit.None ? $", values up to {profile.Max.ToString("0.###", CultureInfo.InvariantCulture)} can only be {UnitMarks.Symbol(unit)}" : "")}");
    }
}
