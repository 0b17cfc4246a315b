using System.Globalization;

namespace PackCare.Import.Meanings;

/// <summary>Settles the units of time, current and charge that headers leave open.</summary>
internal sealed class FlowUnits(FlowLog log, OpenTimeUnit time, FlowPowers powers, CellAnswer cells)
{
    /// <summary>Settles them, leaves out a counter that stays open, or refuses the log.</summary>
    internal void Settle(ColumnRole current, ColumnRole? charge, Flow flow)
    {
        var open = new UnitFits(log, time, current, charge, flow, powers.UnitOf(current));
        if (open.Fits.Count == 0)
        {
            WithoutFit(current, charge, flow, open);
            return;
        }

        List<(Unit Time, Unit Current, Unit Charge)> fits = open.Fits;
        bool bySteps = open.TimeIsOpen && fits.Select(fit => fit.Time).Distinct().Count() > 1;
        if (bySteps)
        {
            Unit? natural = time.Natural(current);
            fits = natural is null ? fits : [.. fits.Where(fit => fit.Time == natural)];
            if (fits.Count == 0 || natural is null || time.IsTooFast(natural.Value, current))
            {
                time.Refuse();
                return;
            }
        }

        // What fits alone, and is no pace that anybody logs at, fits because something else is wrong: the unit of the current, or days in place of hours.
        if (open.TimeIsOpen && !bySteps && !open.Counts && time.IsStrange(fits[0].Time, current, fits[0].Current))
        {
            time.Refuse();
            return;
        }

        if (open.CurrentIsOpen && fits.Select(fit => fit.Current).Distinct().Count() > 1)
        {
            Unit? natural = NaturalCurrent(current, flow);
            fits = natural is null ? fits : [.. fits.Where(fit => fit.Current == natural)];
            if (natural is null || fits.Count == 0)
            {
                double largest = current.Profile!.LargestMagnitude;
                log.Columns.Refuse("ambiguous-unit", 0, current, string.Create(
                    CultureInfo.InvariantCulture, $"a current of up to {largest:0.###} that could be {largest:0.###} A or {largest / 1000:0.######} A"), "state the unit in the header: current [A] or current [mA]");
                return;
            }
        }

        if (open.ChargeIsOpen && fits.Select(fit => fit.Charge).Distinct().Count() > 1)
        {
            Unit? natural = NaturalCharge(charge!);
            if (natural is null)
            {
                log.LeaveOutCounter(charge!, "a charge counter that could be Ah or mAh; left out");
                log.Columns.Notice("charge-unit", 0, charge, "a charge counter that could be Ah or mAh", "state the unit in the header; the column was left out");
                charge = null;
            }
            else
            {
                fits = [.. fits.Where(fit => fit.Charge == natural)];
            }
        }

        (Unit timeUnit, Unit currentUnit, Unit chargeUnit) = fits[0];
        double agreement = open.Speed(timeUnit, currentUnit, chargeUnit);
        if (log.Columns.MayBeClockDigits && !(Math.Abs(agreement - 1) < 0.05 + (1.5 * Math.Pow(10, -charge?.Column.MaxDecimals ?? 0) / flow.CounterPath)))
        {
            time.RefuseClockDigits();
            return;
        }

        if (IsDisproved(current, currentUnit, flow, open.Counts))
        {
            return;
        }

        time.Tell(timeUnit, open.Counts && !bySteps);
        TellCurrent(current, currentUnit, flow, open);
        if (charge is not null)
        {
            TellCharge(charge, chargeUnit, open.Counts);
        }
    }

    private void WithoutFit(ColumnRole current, ColumnRole? charge, Flow flow, UnitFits open)
    {
        if (charge is not null && !open.Counts)
        {
            bool stands = charge.Profile!.IsConstant;
            log.LeaveOutCounter(charge, stands ? "a charge that stands still while current flows: a rated value, or the counter of the other direction; left out" : "a charge counter that does not follow the current; left out");
            log.Columns.Notice("charge-disagrees", LargestRow(charge), charge, stands ? "a charge that stands still while current flows" : "a charge counter that the current cannot have filled", "the column was left out");
            Settle(current, null, flow);
            return;
        }

        if (open is not { Counts: true, TimeIsOpen: false, CurrentIsOpen: false, ChargeIsOpen: false })
        {
            log.Columns.Refuse("unit-unclear", LargestRow(current), current, string.Create(
                CultureInfo.InvariantCulture, $"a current of up to {current.Profile!.LargestMagnitude:0.###} that fits neither A nor mA with the other columns"), "state the units in the header, for instance current [A]");
            return;
        }

        Unit unit = current.Hint.Unit != Unit.None ? current.Hint.Unit : powers.UnitOf(current)!.Value;
        double speed = open.Speed(log.TimeUnit, unit, charge!.Hint.Unit);
        string found = string.Create(CultureInfo.InvariantCulture, $"a charge counter that runs {speed:0.###} times as fast as the current of column {current.Column.Index + 1} fills it");
        double factor = flow.CounterPath / flow.CountedIntegral * (flow.CounterBySign < 0 ? -1 : 1);
        bool runsAlong = log.Stray(current, charge, factor) <= (0.03 * flow.CounterPath) + (2 * Math.Pow(10, -charge.Column.MaxDecimals));
        if (CounterFit.IsUnitMistake(speed) || runsAlong)
        {
            log.Columns.Refuse("charge-disagrees", 0, charge, found, "correct the units in the header");
            return;
        }

        log.Columns.Notice("charge-disagrees", LargestRow(charge), charge, found, "the column was left out");
        log.LeaveOutCounter(charge, "a charge counter that does not follow the current; left out");
        current.Unit = unit;
    }

    private Unit? NaturalCurrent(ColumnRole current, Flow flow)
    {
        NumberProfile profile = current.Profile!;
        return cells.UnitOf(current, flow)
            ?? (profile.IsConstantZero || (current.Column.MaxDecimals >= 1 && profile.LargestMagnitude < 100 && (current.Column.MaxDecimals >= 2 || !log.Voltages.Exists(v => v.Unit == Unit.Millivolt))) ? Unit.Ampere : null);
    }

    private static Unit? NaturalCharge(ColumnRole charge)
    {
        NumberProfile profile = charge.Profile!;
        return profile.IsConstantZero || (charge.Column.MaxDecimals >= 2 && profile.LargestMagnitude < 100) ? Unit.AmpereHour : profile.LargestMagnitude > 200 ? Unit.MilliampereHour : null;
    }

    private bool IsDisproved(ColumnRole current, Unit unit, Flow flow, bool counts)
    {
        NumberProfile profile = current.Profile!;
        if (!counts && unit == Unit.Ampere && cells.IsUnanswered(current, flow))
        {
            log.Columns.Refuse("unit-unclear", LargestRow(current), current, string.Create(
                CultureInfo.InvariantCulture, $"a current of up to {profile.LargestMagnitude:0.###} A whose steps the cells do not answer, as none could leave unanswered"), "correct the unit in the header: current [mA] perhaps");
            return true;
        }

        if (unit == Unit.Milliampere && cells.IsOveranswered(current, flow))
        {
            log.Columns.Refuse("unit-unclear", LargestRow(current), current, string.Create(
                CultureInfo.InvariantCulture, $"a current of up to {profile.LargestMagnitude:0.###} mA whose steps move the cells as no such current could"), "correct the unit: current [A] perhaps");
            return true;
        }

        if (powers.UnitOf(current) is { } byPower && byPower != unit)
        {
            log.Columns.Refuse("unit-unclear", LargestRow(current), current, string.Create(
                CultureInfo.InvariantCulture, $"a current of up to {profile.LargestMagnitude:0.###} {UnitMarks.Symbol(unit)}, while voltage and power say {UnitMarks.Symbol(byPower)}"), $"correct the units in the header: current [{UnitMarks.Symbol(byPower)}] perhaps");
            return true;
        }

        return false;
    }

    private void TellCurrent(ColumnRole current, Unit unit, Flow flow, UnitFits open)
    {
        current.Unit = unit;
        if (current.Hint.Unit != Unit.None)
        {
            current.Why = $"{current.Why} in {UnitMarks.Symbol(unit)}";
            return;
        }

        string because = open is { Counts: true, CurrentIsOpen: true, ChargeIsOpen: false } ? "the charge counter agrees"
            : cells.UnitOf(current, flow) == unit ? $"only in {UnitMarks.Symbol(unit)} do its steps move the cells as far as a cell's resistance allows"
            : open.Counts ? "the charge counter agrees" : "nothing else fits its size and digits";
        current.Why = $"{current.Why}; {UnitMarks.Symbol(unit)} because {because}";
        if (!open.Counts && powers.UnitOf(current) is null && !current.Profile!.IsConstantZero && cells.IsUnseen(current, flow))
        {
            log.Columns.Notice(
                "current-unit-assumed", 0, current, $"a current without a unit, taken for {UnitMarks.Symbol(unit)}, whose changes show in no cell",
                $"if it is {(unit == Unit.Ampere ? "mA" : "A")}, state it in the header, current [{(unit == Unit.Ampere ? "mA" : "A")}], or with a reading guide");
        }
    }

    private static void TellCharge(ColumnRole charge, Unit unit, bool counts)
    {
        charge.Unit = unit;
        charge.Why = !counts ? $"{charge.Why}, taken for {UnitMarks.Symbol(unit)}"
            : charge.Why.Contains("integral", StringComparison.Ordinal) ? $"{charge.Why}, in {UnitMarks.Symbol(unit)}" : $"{charge.Why}; it is the integral of the current in {UnitMarks.Symbol(unit)}";
    }

    // Where one value is far beyond all others, it is the one to look at.
    private static int LargestRow(ColumnRole role)
    {
        double largest = role.Profile!.LargestMagnitude;
        int row = LogColumns.FirstRow(role, 1, value => Math.Abs(value) == largest) ?? 0;
        int others = 0;
        for (int b = 0; b < role.Values.Count; b++)
        {
            others += LogColumns.Values(role, b, 1).Count(value => Math.Abs(value) > largest / 20);
        }

        return others <= 2 ? row : 0;
    }
}
