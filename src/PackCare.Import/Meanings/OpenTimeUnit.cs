using System.Globalization;

namespace PackCare.Import.Meanings;

/// <summary>Settles the unit of an elapsed time that no header states, and tells where it stays open.</summary>
internal sealed class OpenTimeUnit(FlowLog log)
{
    // Fifty rows a second under 30 A are a flight; under 300 A, rather milliamperes once in so many seconds.
    private const double MostAmperes = 150;

    // A second.
    private const double LeastHours = 0.9 / 3600;

    private static readonly int[] RoundSteps = [100, 200, 250, 500, 1000, 2000, 2500, 5000, 10_000, 20_000];

    /// <summary>Which unit the steps of a bare row of numbers suggest; null where two do.</summary>
    /// <param name="current">The current, or null where there is none.</param>
    internal Unit? Natural(ColumnRole? current)
    {
        NumberProfile profile = log.Time.Profile!;
        if (profile.Count < 2)
        {
            return Unit.Second;
        }

        double step = UsualStep(profile.SumOfSteps / (profile.Count - 1));
        bool round = RoundSteps.Any(r => Math.Abs((step / r) - 1) < 0.02);
        if (log.Time.Column.MaxDecimals > 0 && step < 90)
        {
            return step < 0.5 ? null : Unit.Second;
        }

        if (step < 90 || step > 4000 || round)
        {
            return step >= 950 && round ? Unit.Millisecond : step >= 90 ? null : Unit.Second;
        }

        // Whole minutes are a pace that a person sets; 97 or 1130 are milliseconds of a program as well as seconds, but for how fast the cells would go.
        return InMinutes() || ChargeRate.IsImpossible(log.Axis, log.Map, log.Voltages, current, 0.001, ChargeRate.PolarizationVolts) ? Unit.Second : null;
    }

    /// <summary>Whether the steps of a row of numbers are not those of a unit: of another, or of what no logger keeps up.</summary>
    internal bool IsStrange(Unit unit, ColumnRole current, Unit currentUnit)
    {
        NumberProfile profile = log.Time.Profile!;
        return profile.Count > 2 && unit switch
        {
            Unit.Millisecond => current.Profile!.LargestMagnitude * UnitMarks.Factor(currentUnit) > MostAmperes && Natural(current) == Unit.Second,
            Unit.Hour => UsualStep(profile.SumOfSteps / (profile.Count - 1)) < LeastHours,
            _ => false,
        };
    }

    private bool InMinutes()
    {
        double[] values = LogColumns.Values(log.Time, 0, 1);
        return values.Skip(1).Zip(values, (next, value) => next - value).Count(step => step % 60 == 0) * 10 >= (values.Length - 1) * 9;
    }

    /// <summary>The middle one of all steps: a gap must not pass for one.</summary>
    internal double UsualStep(double mean)
    {
        double[] values = LogColumns.Values(log.Time, 0, 1);
        double[] steps = [.. values.Skip(1).Zip(values, (next, value) => next - value).Where(step => step > 0)];
        return steps.Length == 0 ? mean : Selection.At(steps, steps.Length / 2);
    }

    /// <summary>Settles it by the steps alone.</summary>
    internal void SettleBySteps()
    {
        if (log.Columns.MayBeClockDigits)
        {
            RefuseClockDigits();
            return;
        }

        Unit? natural = Natural(null);
        if (natural is null || IsTooFast(natural.Value, null))
        {
            Refuse();
            return;
        }

        Tell(natural.Value, false);
    }

    /// <summary>
    /// Whether in seconds the cells would have gone from empty to full within minutes. Decimals then say minutes; whole numbers are seconds nearly
    /// always, and a notice says so.
    /// </summary>
    internal bool IsTooFast(Unit natural, ColumnRole? current)
    {
        if (natural != Unit.Second)
        {
            return false;
        }

        bool decimals = log.Time.Column.MaxDecimals > 0;
        bool tooFast = ChargeRate.IsImpossible(log.Axis, log.Map, log.Voltages, current, 1);
        if (tooFast != decimals)
        {
            log.Columns.Notice(
                "time-unit-assumed", 0, log.Time, $"a time without a unit, taken for seconds{(tooFast ? ", in which the cells went faster than packs do" : "")}",
                string.Create(CultureInfo.InvariantCulture, $"if it is minutes, state it in the header, time [min]; or in a reading guide: {{ \"index\": {log.Time.Column.Index + 1}, \"meaning\": \"elapsed-time\", \"unit\": \"min\" }}"));
        }

        return tooFast && decimals;
    }

    /// <summary>Settles it, if it is open, and says why.</summary>
    internal void Tell(Unit unit, bool counts)
    {
        if (log.TimeUnit == Unit.None)
        {
            log.TimeUnit = unit;
            log.Time.Unit = unit;
            log.Time.Why = $"{log.Time.Why}; {UnitMarks.Symbol(unit)} because {(counts ? "the charge counter agrees with the current only so" : "its steps suggest nothing else")}";
        }
    }

    /// <summary>Refuses a time that could be clock digits.</summary>
    internal void RefuseClockDigits() => log.Columns.Refuse(
        "ambiguous-time", 0, log.Time, "numbers that could be hours, minutes and seconds without colons",
        log.Time.Hint.Unit == Unit.Second ? "write the time with colons; if it is seconds all the same, correct those that jump at each full minute" : "write the time with colons, or state its unit in the header: time [s]");

    /// <summary>Refuses a time whose unit stays open.</summary>
    internal void Refuse() => log.Columns.Refuse(
        "ambiguous-time-unit", 0, log.Time, log.Time.Column.MaxDecimals > 0 ? "a time column that could be in seconds, in minutes or in hours" : "a time column that could be in seconds or in milliseconds",
        "state the unit in the header: time [s], time [min] or time [ms]");
}
