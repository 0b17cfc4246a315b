using System.Globalization;
using PackCare.Core.Reading;

namespace PackCare.Import.Meanings;

/// <summary>
/// Settles what headers leave open about time, current and charge: the charge counter has to be the integral of
/// the current, and the voltage has to rise while charging.
/// </summary>
internal static class FlowSettler
{
    // A cell of the smallest packs has a fifth of this when it is worn out; common practice, no source.
    private const double MostOhms = 3;

    // The largest cells of the trade have several times as much; common practice, no source.
    private const double LeastOhms = 0.00005;

    // Under a header that names a time packs may well be emptied faster than most are, for a while.
    private const double Forbearance = 4;

    // Of the current.
    private const double MostSteady = 0.3;

    // Of the current. The noise of one that stays tells nothing of a resistance.
    private const double LeastChange = 0.05;

    /// <summary>Settles everything about the flow of charge.</summary>
    internal static void Settle(FlowLog log)
    {
        LogColumns columns = log.Columns;
        if (log.TimeUnit == Unit.None && TimeFinder.LooksLikeSerialDates(log.Time))
        {
            columns.Refuse(
                "ambiguous-time-unit", 0, log.Time, "a time that could be seconds, or dates as the days that spreadsheets count",
                string.Create(CultureInfo.InvariantCulture, $"state its unit in the header, time [s]; or let a reading guide say dates: {{ \"index\": {log.Time.Column.Index + 1}, \"meaning\": \"timestamp\", \"unit\": \"d\" }}"));
            return;
        }

        var time = new OpenTimeUnit(log);
        var powers = new FlowPowers(log);
        (ColumnRole? current, ColumnRole? charge) = Choose(log, powers);
        if (columns.IsRefused)
        {
            return;
        }

        if (IsOpenTwoPart(log.Time) && IsTwoPartRefused(log, current))
        {
            return;
        }

        LeaveOutSeconds(columns, charge);
        if (charge is not null && current is not null && RisingTime.CountsOn(charge, current) && !IsSteady(current))
        {
            columns.Refuse(
                "headers-exchanged", 0, charge, $"column {charge.Column.Index + 1}, headed as a charge, goes on by the same amount in every row while the current in column {current.Column.Index + 1} does not stay: a time, or the number of the row",
                "if two headers are exchanged, correct them; else leave the column out with a reading guide: \"meaning\": \"ignored\"");
            return;
        }

        if (charge is not null)
        {
            LostCounterSigns.Check(columns, charge, log.Map);
            if (columns.IsRefused)
            {
                return;
            }
        }

        if (current is null)
        {
            if (columns.LoneCell is not null)
            {
                VoltageFinder.RefuseUnsure(columns, columns.LoneCell);
                return;
            }

            SettleWithoutCurrent(log, time, charge);
            return;
        }

        // A current that only its content told may have a column of modes as well.
        if (!current.HasProvedSign && current.Profile is { Min: >= 0, IsConstantZero: false } && columns.Single(ColumnMeaning.Mode) is { } modes && modes.Column.Words.Any(word => ModeWords.DirectionOf(word) is -1))
        {
            FlowCombiner.ByMode(columns, current, modes);
            if (columns.IsRefused)
            {
                return;
            }
        }

        // What tells the sign has nothing to do with units, so it is looked for meanwhile.
        ColumnRole? mode = current.HasProvedSign ? null : columns.Single(ColumnMeaning.Mode);
        Task<(FlowRows Rows, FlowDirection Told)> direction = Task.Run(() =>
        {
            FlowRows rows = log.RowsOf(current, mode);
            FlowDirection found = FlowDirection.Of(rows);
            found.LostSign = LostSigns.Find(rows);
            return (rows, found);
        });
        Flow flow = log.Measure(current, charge);
        new FlowUnits(log, time, powers, new CellAnswer(log)).Settle(current, charge, flow);
        (FlowRows rows, FlowDirection told) = direction.GetAwaiter().GetResult();
        if (columns.IsRefused)
        {
            return;
        }

        // A column that goes one way while something flows is no voltage yet.
        if (columns.LoneCell is not null && !told.StepsAreSure && !told.IsTrendSure && told.Hold == 0 && !(told.CourseIsSure && charge is { IsUsed: true }))
        {
            VoltageFinder.RefuseUnsure(columns, columns.LoneCell);
            return;
        }

        double cells = log.CellsInVoltage;
        bool varies = current.Profile!.Max - current.Profile.Min > LeastChange * current.Profile.LargestMagnitude;
        if (varies && current.Hint.Unit == Unit.None && told.TrendOhms / current.Factor / cells > MostOhms)
        {
            columns.Refuse(
                "ambiguous-unit", 0, current, string.Create(CultureInfo.InvariantCulture, $"a current in {UnitMarks.Symbol(current.Unit)} under which a cell would have {told.TrendOhms / current.Factor / cells:0.#} ohm, as none has: its unit, or that of the time, is another"),
                "state both units in a header, for instance time_s and current_a, or with a reading guide");
            return;
        }

        if (told is { LargeStepsAreSure: true, StepOhms: > 0 } && told.StepOhms / current.Factor / cells < LeastOhms)
        {
            columns.Refuse(
                "unit-unclear", 0, current, string.Create(CultureInfo.InvariantCulture, $"a current in {UnitMarks.Symbol(current.Unit)} under which a cell would have {told.StepOhms / current.Factor / cells * 1e6:0} microohm, as none has: its unit is another"),
                "correct it in the header, or state it with a reading guide");
            return;
        }

        if (current.Hint.Quantity == Quantity.Unknown && PowerLike.IsPower(current, rows))
        {
            columns.Refuse(
                "ambiguous-current", 0, current, $"column {current.Column.Index + 1} goes with the voltage as a power does, and could as well be the current",
                "name the columns in a header, for instance current_a or power_w");
            return;
        }

        new FlowSign(log).Settle(current, charge, flow, told, current.HasProvedSign || told is { StepsAreSure: true, Steps: > 0, Answers: > 0 } ? 0 : PinnedVoltage.SignOf(log, current));
        if (!columns.IsRefused)
        {
            AgainstTheCells.Check(log, current, rows, told);
        }

        if (!columns.IsRefused)
        {
            UnsignedFlow.Check(log, current, rows);
        }

        if (!columns.IsRefused)
        {
            UnusedCurrents.Check(log, current, rows);
        }

        if (!columns.IsRefused)
        {
            UnmatchedSteps.Tell(log, current, rows);
            CellsApart.Tell(log, rows);
        }

        if (!columns.IsRefused)
        {
            new EnergyUnit(log).Settle(current);
        }
    }

    private static (ColumnRole? Current, ColumnRole? Charge) Choose(FlowLog log, FlowPowers powers)
    {
        var integrals = new CounterFit(log);
        var shape = new CurrentShape(log);
        var named = new NamedFlow(log, integrals, shape);
        ColumnRole? current = named.ChooseCurrent();
        if (log.Columns.IsRefused)
        {
            return (null, null);
        }

        if (current is not null && Counts(current.Profile!) && log.Columns.OfMeaning(ColumnMeaning.Charge).FirstOrDefault(role => integrals.Misfit(current, role) >= 1 && integrals.Misfit(role, current) < 0.3) is { } exchanged)
        {
            log.Columns.Refuse(
                "headers-exchanged", 0, current, $"column {current.Column.Index + 1} is headed as a current and counts what column {exchanged.Column.Index + 1}, headed as a charge, comes to over time",
                "if the two headers are exchanged, correct them");
            return (null, null);
        }

        ColumnRole? charge = named.ChooseCharge(current);
        var unnamed = new UnnamedFlow(log, integrals, shape, powers, new LeftOverTemperatures(log, integrals, shape));
        if (current is not null)
        {
            powers.Name(current);
            return (current, charge ?? unnamed.Counter(current));
        }

        (current, ColumnRole? found) = unnamed.Find(charge);
        return (current, charge ?? found);
    }

    // But for a few rows where it sets in or ends.
    private static bool IsSteady(ColumnRole current)
    {
        const int Few = 3;
        double[] amps = [.. LogColumns.Values(current, 0, 1).Where(double.IsFinite)];
        double usual = amps.Length == 0 ? 0 : Selection.At([.. amps], amps.Length / 2);
        return amps.Count(one => Math.Abs(one - usual) > MostSteady * current.Profile!.LargestMagnitude) < Math.Max(Few, amps.Length / 20);
    }

    // Goes one way in a good part of its rows, and hardly ever the other.
    private static bool Counts(NumberProfile profile) => Math.Max(profile.Rises, profile.Falls) * 4 > profile.Count && Math.Min(profile.Rises, profile.Falls) * 50 <= profile.Count;

    // Whether "00:01" may be hours and minutes as well as minutes and seconds; where only its steps say so, it is taken for the latter and told.
    private static bool IsTwoPartRefused(FlowLog log, ColumnRole? current)
    {
        LogColumns columns = log.Columns;
        bool stepsByOne = StepsByOne(log.Axis);
        if (ChargeRate.IsImpossible(log.Axis, log.Map, log.Voltages, current, log.Time.Hint.Quantity == Quantity.Unknown || stepsByOne ? 1 : Forbearance))
        {
            Refuse("times of two parts, under which the cells went faster than packs do if they are minutes and seconds: they may be hours and minutes");
            return true;
        }

        if (current is not null && log.Unknown().Concat(columns.OfMeaning(ColumnMeaning.Charge)).Any(role => role != current && CountsSixty(log.Measure(current, role), role)))
        {
            Refuse("times of two parts that a charge counter takes for hours and minutes, or for minutes and seconds of another unit");
            return true;
        }

        if (stepsByOne || current is null || !columns.OfMeaning(ColumnMeaning.Charge).Any())
        {
            columns.Notice("time-unit-assumed", 0, log.Time, "times of two parts, taken for minutes and seconds", "if they are hours and minutes, say so in the header: time [hh:mm]");
        }

        return false;

        void Refuse(string found) => columns.Refuse("ambiguous-time-unit", 0, log.Time, found, "write them with all three parts, 00:01:30; or say so in the header: time [hh:mm] or time [mm:ss]");
    }

    private static bool IsOpenTwoPart(ColumnRole time) =>
        time is { Meaning: ColumnMeaning.ElapsedTime, Column: { Shape: Tables.ColumnShape.Time, TimeShape: Lexing.TimeShape.TwoPart, FractionDigits: 0 }, Hint.Unit: Unit.None };

    // A counter that runs sixty times as fast as the current fills it, in whichever units.
    private static bool CountsSixty(Flow flow, ColumnRole role)
    {
        if (!CounterFit.CountsEnough(role, flow) || flow.CounterPath < 20 * Math.Pow(10, -role.Column.MaxDecimals) || Math.Abs(flow.CounterBySign) < 0.9 * flow.CounterPath)
        {
            return false;
        }

        double ratio = flow.CounterPath * 3600 / flow.CountedIntegral / 60;
        return Math.Abs(ratio - 1) < 0.05 || Math.Abs((ratio / 1000) - 1) < 0.05 || Math.Abs((ratio * 1000) - 1) < 0.05;
    }

    private static bool StepsByOne(TimeAxis axis)
    {
        double[] seconds = axis.Seconds(0);
        return seconds.Length > 2 && Enumerable.Range(1, seconds.Length - 1).Count(i => seconds[i] - seconds[i - 1] == 1) > 0.9 * seconds.Length;
    }

    private static void LeaveOutSeconds(LogColumns columns, ColumnRole? charge)
    {
        foreach (ColumnRole extra in columns.OfMeaning(ColumnMeaning.Charge).Where(role => role != charge).ToList())
        {
            extra.Take(ColumnMeaning.Ignored, Unit.None, null, "a second charge counter; left out");
        }

        foreach (ColumnRole extra in columns.OfMeaning(ColumnMeaning.Energy).Skip(1).ToList())
        {
            extra.Take(ColumnMeaning.Ignored, Unit.None, null, "a second energy counter; left out");
        }
    }

    private static void SettleWithoutCurrent(FlowLog log, OpenTimeUnit time, ColumnRole? charge)
    {
        if (log.TimeUnit == Unit.None)
        {
            time.SettleBySteps();
        }

        if (charge is not null)
        {
            log.LeaveOutCounter(charge, "a charge counter that no current confirms; left out");
            log.Columns.Notice("charge-unconfirmed", null, charge, "a charge counter but no current to confirm its unit and sign", "the column was left out");
        }

        foreach (ColumnRole energy in log.Columns.OfMeaning(ColumnMeaning.Energy).ToList())
        {
            energy.Take(ColumnMeaning.Ignored, Unit.None, null, "an energy counter that no current confirms; left out");
        }

        log.Columns.Reasons.Add("No column holds the current; what needs it stays unknown.");
    }
}
