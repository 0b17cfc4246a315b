using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Import.Sessions;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>
/// Settles what headers leave open about time, current and charge: the charge counter has to be the integral of
/// the current, and the voltage has to rise while charging.
/// </summary>
internal sealed class FlowSettler(LogColumns columns, TimeAxis axis, SessionMap map, ColumnRole timeRole)
{
    private const double MostAmperes = 1000;
    private const double LikelyAmperes = 600;
    private const double MostAmpereHours = 150;
    private const double LeastAmperes = 0.005;
    private const double LeastCellOhms = 0.0002;
    private const double MostCellOhms = 3;

    // The smallest LiPo packs hold about 20 mAh; common practice, no source.
    private const double SmallestPackAmpereHours = 0.015;
    private const double LargeDrift = 0.35;

    private static readonly int[] RoundSteps = [100, 200, 250, 500, 1000, 2000, 2500, 5000, 10_000, 20_000];

    private readonly List<ColumnRole> _voltages = columns.Cells.Count > 0 ? columns.Cells : [.. columns.OfMeaning(ColumnMeaning.PackVoltage).Take(1)];

    /// <summary>The unit of elapsed time, once settled.</summary>
    internal Unit TimeUnit { get; private set; } = timeRole.Meaning == ColumnMeaning.ElapsedTime && timeRole.Profile is not null ? timeRole.Hint.Unit : Unit.Second;

    /// <summary>Settles everything about the flow of charge.</summary>
    internal void Settle()
    {
        if (TimeUnit == Unit.None && TimeFinder.LooksLikeSerialDates(timeRole))
        {
            columns.Refuse(
                "ambiguous-time-unit", 0, timeRole, "a time that could be seconds, or dates as the days that spreadsheets count",
                string.Create(CultureInfo.InvariantCulture, $"state its unit in the header, time [s]; or let a reading guide say dates: {{ \"index\": {timeRole.Column.Index + 1}, \"meaning\": \"timestamp\", \"unit\": \"d\" }}"));
            return;
        }

        ColumnRole? current = ChooseCurrent();
        if (columns.IsRefused)
        {
            return;
        }

        ColumnRole? charge = ChooseCharge(current);
        bool named = current is not null;
        if (current is null)
        {
            (current, ColumnRole? found) = ByContent(charge);
            charge ??= found;
            if (columns.IsRefused)
            {
                return;
            }
        }

        if (current is not null && named)
        {
            NamePowers(current);
            charge ??= UnnamedCounter(current);
        }

        foreach (ColumnRole extra in columns.OfMeaning(ColumnMeaning.Charge).Where(role => role != charge).ToList())
        {
            extra.Take(ColumnMeaning.Ignored, Unit.None, null, "a second charge counter; left out");
        }

        foreach (ColumnRole extra in columns.OfMeaning(ColumnMeaning.Energy).Skip(1).ToList())
        {
            extra.Take(ColumnMeaning.Ignored, Unit.None, null, "a second energy counter; left out");
        }

        if (current is null)
        {
            SettleWithoutCurrent(charge);
            return;
        }

        // What tells the sign has nothing to do with units, so it is looked for meanwhile.
        ColumnRole? mode = current.HasProvedSign ? null : columns.Single(ColumnMeaning.Mode);
        Task<FlowDirection> direction = Task.Run(() => FlowDirection.Of(map, _voltages, current, mode));
        Flow flow = Flow.Measure(axis, map, _voltages, current, charge);
        SettleUnits(current, charge, flow);
        FlowDirection told = direction.GetAwaiter().GetResult();
        if (columns.IsRefused)
        {
            return;
        }

        SettleSign(current, charge, flow, told);
        if (!columns.IsRefused)
        {
            SettleEnergy(current);
        }
    }

    private ColumnRole? ChooseCurrent()
    {
        List<ColumnRole> currents = [.. columns.OfMeaning(ColumnMeaning.Current)];
        if (currents.Count > 1 && TrueCurrent(currents) is { } measured)
        {
            foreach (ColumnRole other in currents.Where(role => role != measured))
            {
                other.Take(ColumnMeaning.Ignored, Unit.None, null, $"a set value or a limit: the measured current is column {measured.Column.Index + 1}");
            }

            return measured;
        }

        if (currents.Count > 1)
        {
            columns.Refuse(
                "ambiguous-current", null, currents[1], $"columns {currents[0].Column.Index + 1} and {currents[1].Column.Index + 1} both name the current", "remove one of them, or rename the one that is not the pack's");
            return null;
        }

        return currents.FirstOrDefault();
    }

    // The one that a counter or a power proves while the others are set values, which keep still for long stretches.
    private ColumnRole? TrueCurrent(List<ColumnRole> currents)
    {
        List<ColumnRole> moving = [.. currents.Where(role => role.Profile!.Rises + role.Profile.Falls > 0.1 * role.Profile.Count)];
        List<ColumnRole> counters = [.. columns.OfMeaning(ColumnMeaning.Charge)];
        List<ColumnRole> powers = [.. columns.OfMeaning(ColumnMeaning.Power)];
        List<ColumnRole> proved = [.. currents.Where(role => counters.Exists(counter => IsIntegral(role, counter)) || powers.Exists(power => PowerProof.Ratio(power, role, PackOrCells()) is not null))];
        return proved.Count == 1 && !moving.Exists(role => role != proved[0]) ? proved[0]
            : proved.Count == 0 && currents.Count(role => !role.Profile!.IsConstant) == 1 && currents.Find(role => !role.Profile!.IsConstant) is { } one && CanBeCurrent(one) ? one : null;
    }

    // Of several counters that headers name, the one that the current fills: that of the other direction stands still.
    private ColumnRole? ChooseCharge(ColumnRole? current)
    {
        List<ColumnRole> named = [.. columns.OfMeaning(ColumnMeaning.Charge)];
        return named.Count > 1 && current is not null ? named.MinBy(role => Misfit(current, role))
            : named.FirstOrDefault() ?? columns.Single(ColumnMeaning.ChargeIn);
    }

    private List<ColumnRole> PackOrCells() => columns.Single(ColumnMeaning.PackVoltage) is { } pack ? [pack] : columns.Cells;

    // What is the current times the voltage in every row is the power, and nothing else.
    private void NamePowers(ColumnRole current)
    {
        foreach (ColumnRole role in Unknown().Where(role => PowerProof.Ratio(role, current, PackOrCells()) is not null).ToList())
        {
            role.Take(ColumnMeaning.Power, Unit.None, null, $"it is column {current.Column.Index + 1} times the voltage in every row: a power; not stored, voltage and current give it");
        }
    }

    // A column that another one multiplies by the voltage in every row is the current.
    private ColumnRole? CurrentOfPower(List<ColumnRole> unknown)
    {
        List<ColumnRole> volts = PackOrCells();
        List<ColumnRole> powers = [.. unknown, .. columns.OfMeaning(ColumnMeaning.Power)];
        var proved = new List<(ColumnRole Current, ColumnRole Power)>();
        foreach (ColumnRole current in unknown.Where(role => !IsFlag(role)))
        {
            foreach (ColumnRole power in powers.Where(role => role != current && PowerProof.Ratio(role, current, volts) is not null))
            {
                proved.Add((current, power));
            }
        }

        // Between watts and milliamperes it may be either of the two; one proof that cannot be turned round is needed.
        proved.RemoveAll(pair => proved.Contains((pair.Power, pair.Current)));
        return proved.Select(pair => pair.Current).Distinct().Count() == 1 ? proved[0].Current : null;
    }

    private List<ColumnRole> Unknown() =>
        [.. columns.Roles.Where(role => !role.IsUsed && role.Profile is { Count: > 0 } && role.Hint is { Quantity: Quantity.Unknown, IsDerived: false })];

    // Columns without a telling header: charge and current prove each other, and what is left over is named by exclusion.
    private (ColumnRole? Current, ColumnRole? Charge) ByContent(ColumnRole? namedCharge)
    {
        List<ColumnRole> unknown = Unknown();
        if (CurrentOfPower(unknown) is { } proof)
        {
            proof.Take(ColumnMeaning.Current, Unit.None, null, "times the voltage it is in every row another column, the power");
            NamePowers(proof);
            ColumnRole? counter = namedCharge ?? UnnamedCounter(proof, 1);
            LeftOver(proof, counter);
            return (proof, counter);
        }

        var pairs = new List<(ColumnRole Current, ColumnRole Charge)>();
        foreach (ColumnRole current in unknown.Where(role => role.Profile!.IsConstant || role.Profile.LargestMagnitude > 4 || !IsFlag(role)))
        {
            foreach (ColumnRole charge in namedCharge is null ? unknown : [namedCharge])
            {
                if (charge != current && !current.Profile!.IsConstantZero && (charge == namedCharge || !RisingTime.CountsOn(charge, current)) && IsIntegral(current, charge) && !MayBeTemperatureAlone(charge, current))
                {
                    pairs.Add((current, charge));
                }
            }
        }

        // What never changes is a set value where another column moves as a current does.
        pairs.RemoveAll(pair => pair.Current.Profile!.IsConstant && unknown.Exists(role => role != pair.Current && role != pair.Charge && !role.Profile!.IsConstant && !IsFlag(role) && !CanBeTemperature(role) && CanBeCurrent(role)));

        // A power and an energy relate as current and charge do; where another column may be the current of that power, they are no proof.
        pairs.RemoveAll(pair => unknown.Exists(role => role != pair.Current && role != pair.Charge && PowerProof.IsPossible(pair.Current, role, PackOrCells())));
        if (pairs.Count > 1)
        {
            // A power and an energy relate as current and charge do; the current is the smaller in its file.
            var byCurrent = pairs.GroupBy(pair => pair.Current).ToList();
            if (byCurrent.Count > 1)
            {
                var proved = pairs.Where(pair => !IsPowerOfAnother(pair.Current, pairs)).ToList();
                if (proved.Count >= 1)
                {
                    pairs = proved;
                }
            }

            // A set value is constant; what was measured beside it and fits as well is the current.
            List<(ColumnRole Current, ColumnRole Charge)> moving = [.. pairs.Where(pair => !pair.Current.Profile!.IsConstant)];
            pairs = moving.Count > 0 ? moving : pairs;

            // Where one column can only be the current, and the others a temperature as well, the temperature is among those.
            List<(ColumnRole Current, ColumnRole Charge)> sure = [.. pairs.Where(pair => !CanBeTemperature(pair.Current))];
            pairs = sure.Count > 0 ? sure : pairs;

            // What matches by chance matches badly: the true pair agrees to the counter's last digit.
            List<double> misfits = [.. pairs.Select(pair => Misfit(pair.Current, pair.Charge))];
            double best = misfits.Min();
            if (misfits.Count(misfit => misfit < Math.Max(5 * best, 0.3)) == 1)
            {
                pairs = [pairs[misfits.IndexOf(best)]];
            }

            pairs = [.. pairs.GroupBy(pair => pair.Current).Count() == 1 ? pairs.OrderBy(pair => Misfit(pair.Current, pair.Charge)).Take(1) : pairs];
        }

        if (pairs.Count > 1)
        {
            columns.Refuse("ambiguous-current", null, pairs[0].Current, $"columns {pairs[0].Current.Column.Index + 1} and {pairs[1].Current.Column.Index + 1} could both be the current", "name the columns in a header, for instance current_a");
            return (null, null);
        }

        if (pairs.Count == 1)
        {
            (ColumnRole current, ColumnRole charge) = pairs[0];
            current.Take(ColumnMeaning.Current, Unit.None, null, $"column {charge.Column.Index + 1} is its integral over time");
            NamePowers(current);
            if (charge != namedCharge)
            {
                charge.Take(ColumnMeaning.Charge, Unit.None, null, $"it is the integral of column {current.Column.Index + 1} over time");
            }

            LeftOver(current, charge);
            return pairs[0];
        }

        // What never changes is no current for want of another: the cells do not answer to it.
        List<ColumnRole> candidates = [.. unknown.Where(role => !role.Profile!.IsConstant && !IsFlag(role) && CanBeCurrent(role))];
        List<ColumnRole> temperatures = [.. unknown.Where(CanBeTemperature)];
        List<ColumnRole> only = [.. candidates.Where(role => !temperatures.Contains(role))];
        if (only.Count == 1 && !IsOneOfSeveral(only[0], unknown))
        {
            only[0].Take(ColumnMeaning.Current, Unit.None, null, "of the columns that are left it alone can be a current: the cell voltages answer to it, and it is no temperature");
            LeftOver(only[0], null);
            return (only[0], null);
        }

        if (candidates.Count == 0)
        {
            candidates = [.. unknown.Where(role => !role.Profile!.IsConstant && !temperatures.Contains(role) && !(role.Column.MaxDecimals == 0 && role.Profile.LargestStep == 1 && role.Profile.Rises == role.Profile.Count - 1) && role.Profile.Falls + role.Profile.Rises > 0)];
        }

        if (candidates.Count >= 1 && !columns.Table.Frame.HasHeader)
        {
            List<ColumnRole> open = only.Count > 1 ? only : candidates;
            string names = string.Join(" or ", open.Take(3).Select(role => role.Column.Index + 1));
            columns.Refuse(
                "ambiguous-current", 0, open[0], $"column {names} could be the current{(open.Count == 1 && temperatures.Contains(open[0]) ? ", or a temperature" : "")}, and nothing proves it",
                $"name the columns in a header, for instance current_a; or in a reading guide: {{ \"index\": {open[0].Column.Index + 1}, \"meaning\": \"current\", \"unit\": \"A\" }}");
        }

        return (null, null);
    }

    // One of as many columns as there are cells that all stay about where they are: their resistances, of which some flicker more than others.
    private bool IsOneOfSeveral(ColumnRole role, List<ColumnRole> unknown)
    {
        return columns.Cells.Count >= 2 && Stays(role) && unknown.Count(other => Stays(other) && other.Column.MaxDecimals == role.Column.MaxDecimals) >= columns.Cells.Count;

        static bool Stays(ColumnRole other) => other.Profile is { Min: > 0 } profile && profile.Min > 0.5 * profile.Max;
    }

    // Small whole numbers without a sign: a state, a stage, cells that are being balanced.
    private static bool IsFlag(ColumnRole role) => role.Column.MaxDecimals == 0 && role.Profile is { Min: >= 0, Max: <= 16 };

    // A column whose header says nothing, but which is the integral of the current to the last digit.
    private ColumnRole? UnnamedCounter(ColumnRole current, double most = 0.3)
    {
        if (current.Profile!.IsConstantZero)
        {
            return null;
        }

        List<ColumnRole> integrals = [.. Unknown().Where(role => !RisingTime.CountsOn(role, current) && Misfit(current, role) < most && !MayBeTemperatureAlone(role, current))];
        if (integrals.Count != 1)
        {
            return null;
        }

        integrals[0].Take(ColumnMeaning.Charge, Unit.None, null, $"it is the integral of column {current.Column.Index + 1} over time");
        return integrals[0];
    }

    private void LeftOver(ColumnRole current, ColumnRole? charge)
    {
        int sensor = columns.OfMeaning(ColumnMeaning.Temperature).Count();
        List<ColumnRole> unknown = Unknown();
        foreach (ColumnRole role in unknown.Where(CanBeTemperature))
        {
            if (IsOneOfSeveral(role, unknown))
            {
                role.Why = "as many columns alike as there are cells: a resistance or a temperature of each; left out";
                columns.Notice("resistance-or-temperature", 0, role, "a column that could be a resistance or a temperature", "name it in a header, for instance temp_c; it was left out");
                continue;
            }

            if (MayBeShare(current, role))
            {
                role.Why = "it follows the charge, as a share of it in percent would, or a temperature may; left out";
                columns.Notice("share-or-temperature", 0, role, "a column that could be a state of charge or a temperature", "name it in a header, for instance temp_c; it was left out");
                continue;
            }

            if (IsNearSum(role))
            {
                role.Why = "about the sum of the cells, and as slow as a temperature; left out";
                columns.Notice("voltage-or-temperature", 0, role, "a column that could be the pack voltage or a temperature", "name it in a header, for instance temp_c; it was left out");
                continue;
            }

            if (charge is null ? RunsAlong(current, role) : CountsAlike(charge, role))
            {
                role.Why = "a counter or a temperature: it changes slowly, and as the current would make it; left out";
                columns.Notice("counter-or-temperature", 0, role, "a column that could be a charge counter or a temperature", "name it in a header, for instance temp_c; it was left out");
                continue;
            }

            role.Take(ColumnMeaning.Temperature, Unit.Celsius, ++sensor, string.Create(
                CultureInfo.InvariantCulture, $"values of {role.Profile!.Min:0.#} to {role.Profile.Max:0.#} that change slowly, as a temperature in °C does; nothing else is left that it could be"));
            columns.Notice("temperature-by-content", 0, role, "a column without a telling header that was taken for a temperature in °C", "if it is none, leave it out with a reading guide");
        }
    }

    private bool IsNearSum(ColumnRole role)
    {
        double volts = columns.Cells.Sum(v => (v.Profile!.Min + v.Profile.Max) / 2 * v.Factor);
        return columns.Cells.Count > 0 && columns.Single(ColumnMeaning.PackVoltage) is null && Math.Abs((role.Profile!.Min + role.Profile.Max) / 2 / volts - 1) < 0.03;
    }

    // Slow and with hardly any noise, as little else in a log is; and no long straight line, as a share of charge would be.
    private static bool CanBeTemperature(ColumnRole role)
    {
        if (role.Profile is not { Min: >= 5, Max: <= 55, IsConstant: false } profile || profile.LargestStep > 2 || role.Column.MaxDecimals > 2)
        {
            return false;
        }

        double digit = Math.Pow(10, -role.Column.MaxDecimals);
        bool flickers = role.Column.MaxDecimals <= 1 && profile.Min >= 10 && profile.LargestStep <= 3.01 * digit;
        bool smooth = profile.SumOfSteps <= 6 * (profile.Max - profile.Min);
        return (flickers || smooth) && !IsStraight(role, digit);
    }

    // Under a steady current any slow change of about the right size follows the integral; a counter that is one begins at zero, or bends where the current does.
    private bool MayBeTemperatureAlone(ColumnRole charge, ColumnRole current) =>
        charge.Hint.Quantity == Quantity.Unknown && charge.Profile!.First != 0
        && ((CanBeTemperature(charge) && Misfit(current, charge) >= 0.1) || charge.Profile.Max - charge.Profile.Min < 12 * Math.Pow(10, -charge.Column.MaxDecimals));

    // A share of charge goes one way as long as the current does, by hardly more than its last digit off the integral, and stands still without current.
    // A temperature of tenths that warms evenly does that too for a degree or two; one of whole degrees cannot be told from it at all.
    private bool MayBeShare(ColumnRole current, ColumnRole role)
    {
        NumberProfile profile = role.Profile!;
        Flow flow = Flow.Measure(axis, map, _voltages, current, role);
        if (flow.CountedIntegral <= 0 || flow.CounterPath <= 0 || Math.Abs(flow.CounterBySign) < 0.999 * flow.CounterPath)
        {
            return false;
        }

        double digit = Math.Pow(10, -role.Column.MaxDecimals);
        double went = profile.Max - profile.Min;
        return (role.Column.MaxDecimals == 0 || went >= 3)
            && Flow.Stray(axis, map, current, role, flow.CounterBySign / flow.CountedIntegral) <= (1.6 * digit) + (0.01 * went);
    }

    private static bool IsStraight(ColumnRole role, double digit)
    {
        double[] values = [.. LogColumns.Values(role, 0, 1).Where(double.IsFinite)];
        if (values.Length == 0)
        {
            return false;
        }

        int from = Array.FindLastIndex(values, value => value == values[0]);
        int rows = values.Length - 1 - from;
        double slope = rows > 0 ? (values[^1] - values[from]) / rows : 0;
        if (rows < 6 || Math.Abs(values[^1] - values[from]) < 5)
        {
            return false;
        }

        for (int i = from; i < values.Length; i++)
        {
            if (Math.Abs(values[i] - values[from] - (slope * (i - from))) > 1.5 * digit)
            {
                return false;
            }
        }

        return true;
    }

    private bool CanBeCurrent(ColumnRole role)
    {
        NumberProfile profile = role.Profile!;
        if (profile.LargestMagnitude > 100_000 || profile.IsConstantZero || role.Column.MaxDecimals > 6)
        {
            return false;
        }

        // A count that only goes one way is a counter or a row number, all the more where it does so by single digits.
        int ways = Math.Max(profile.Rises, profile.Falls);
        if (Math.Min(profile.Rises, profile.Falls) == 0 && profile.Count > 2 && (ways > 0.5 * profile.Count || (ways > 0 && profile.LargestStep < 1.5 * Math.Pow(10, -role.Column.MaxDecimals))))
        {
            return false;
        }

        Flow flow = Flow.Measure(axis, map, _voltages, role, null);
        return Math.Abs(Drift(flow)) >= 0.0015 || Math.Abs(flow.StepProduct) > 0.5 * flow.StepProductSize;
    }

    // In total within 5 %, and along the way within 3 % and a few digits of the counter.
    private bool IsIntegral(ColumnRole current, ColumnRole charge) => Misfit(current, charge) < 1;

    // How far the counter is from the integral of the current in what may be tolerated, at the nearest ratio that units allow.
    private double Misfit(ColumnRole current, ColumnRole charge)
    {
        Flow flow = Flow.Measure(axis, map, _voltages, current, charge);
        if (!CountsEnough(charge, flow))
        {
            return double.PositiveInfinity;
        }

        double ratio = flow.CounterPath * 3600 / flow.CountedIntegral;
        double[] ratios = TimeUnit == Unit.None ? Ratios() : Ratios()[..3];
        double nearest = ratios.MinBy(r => Math.Abs((ratio / r) - 1));
        if (Math.Abs((ratio / nearest) - 1) > 0.05 + (1.5 * Math.Pow(10, -charge.Column.MaxDecimals) / flow.CounterPath))
        {
            return double.PositiveInfinity;
        }

        // Minutes against seconds make sixty, and so do the volts of a pack of fifteen cells: what looks like a charge is then the energy.
        double volts = _voltages.Sum(v => (v.Profile!.Min + v.Profile.Max) / 2 * v.Factor);
        if (charge.Hint.Quantity == Quantity.Unknown && nearest is 60 or 60_000 && ratio / (nearest / 60) / volts is > 0.85 and < 1.15)
        {
            return double.PositiveInfinity;
        }

        double factor = flow.CounterPath / flow.CountedIntegral * (flow.CounterBySign < 0 ? -1 : 1);
        double tolerated = (0.03 * flow.CounterPath) + (2 * Math.Pow(10, -charge.Column.MaxDecimals));
        return Flow.Stray(axis, map, current, charge, factor) / tolerated;
    }

    // The same more strictly, for what is not to be taken for anything else: within 2 % and one digit.
    private bool RunsAlong(ColumnRole current, ColumnRole role)
    {
        Flow flow = Flow.Measure(axis, map, _voltages, current, role);
        double digit = 1.01 * Math.Pow(10, -role.Column.MaxDecimals);
        if (!CountsEnough(role, flow))
        {
            return false;
        }

        double ratio = flow.CounterPath * 3600 / flow.CountedIntegral;
        double factor = flow.CounterPath / flow.CountedIntegral * (flow.CounterBySign < 0 ? -1 : 1);
        return (TimeUnit == Unit.None ? Ratios() : Ratios()[..3]).Any(r => Math.Abs((ratio / r) - 1) <= 0.02 + (digit / flow.CounterPath))
            && Flow.Stray(axis, map, current, role, factor) <= (0.02 * flow.CounterPath) + digit;
    }

    // Whether two columns go by the same amounts, in the same or in milli-units, up to the last digit of both.
    private static bool CountsAlike(ColumnRole charge, ColumnRole role)
    {
        double[] one = LogColumns.Values(charge, 0, 1);
        double[] other = LogColumns.Values(role, 0, 1);
        double digit = Math.Pow(10, -charge.Column.MaxDecimals);
        double otherDigit = Math.Pow(10, -role.Column.MaxDecimals);
        int first = Enumerable.Range(0, one.Length).FirstOrDefault(i => !double.IsNaN(one[i] + other[i]), -1);
        foreach (double factor in (ReadOnlySpan<double>)[1, 1000, 0.001, -1, -1000, -0.001])
        {
            double most = 1.01 * (otherDigit + (Math.Abs(factor) * digit));
            if (first >= 0 && !one.Where((value, i) => Math.Abs(other[i] - other[first] - ((value - one[first]) * factor)) > most).Any())
            {
                return true;
            }
        }

        return false;
    }

    private bool IsPowerOfAnother(ColumnRole role, List<(ColumnRole Current, ColumnRole Charge)> pairs)
    {
        double volts = _voltages.Sum(v => (v.Profile!.Min + v.Profile.Max) / 2 * v.Factor);
        return pairs.Any(pair => pair.Current != role && pair.Current.Profile!.LargestMagnitude > 0
            && role.Profile!.LargestMagnitude / pair.Current.Profile.LargestMagnitude is double ratio
            && (Math.Abs((ratio / volts) - 1) < 0.3 || Math.Abs((ratio * 1000 / volts) - 1) < 0.3));
    }

    private static double[] Ratios() => [1, 1000, 0.001, 60, 3600, 60_000, 3_600_000];

    private static bool CountsEnough(ColumnRole charge, Flow flow)
    {
        double resolution = Math.Pow(10, -charge.Column.MaxDecimals);
        return flow.CounterPath >= 4 * resolution && flow.CountedIntegral > 0;
    }

    private void SettleWithoutCurrent(ColumnRole? charge)
    {
        if (TimeUnit == Unit.None)
        {
            SettleTimeByStep();
        }

        if (charge is not null)
        {
            DropCounters(charge);
            charge.Take(ColumnMeaning.Ignored, Unit.None, null, "a charge counter that no current confirms; left out");
            columns.Notice("charge-unconfirmed", null, charge, "a charge counter but no current to confirm its unit and sign", "the column was left out");
        }

        foreach (ColumnRole energy in columns.OfMeaning(ColumnMeaning.Energy).ToList())
        {
            energy.Take(ColumnMeaning.Ignored, Unit.None, null, "an energy counter that no current confirms; left out");
        }

        columns.Reasons.Add("No column holds the current; what needs it stays unknown.");
    }

    private void SettleUnits(ColumnRole current, ColumnRole? charge, Flow flow)
    {
        bool counts = charge is not null && CountsEnough(charge, flow);
        double counted = counts ? flow.CounterPath * 3600 / flow.CountedIntegral : double.NaN;
        Unit[] times = TimeUnit != Unit.None ? [TimeUnit] : [Unit.Second, Unit.Millisecond, Unit.Minute, Unit.Hour];
        Unit[] currents = current.Hint.Unit != Unit.None ? [current.Hint.Unit] : UnitByPower(current) is { } byPower ? [byPower] : [Unit.Ampere, Unit.Milliampere];
        Unit[] charges = charge is null ? [Unit.None] : charge.Hint.Unit != Unit.None ? [charge.Hint.Unit] : [Unit.AmpereHour, Unit.MilliampereHour];
        var fits = new List<(Unit Time, Unit Current, Unit Charge)>();
        foreach (Unit time in times)
        {
            foreach (Unit amps in currents)
            {
                foreach (Unit hours in charges)
                {
                    // Axis seconds are raw when the unit of time is open.
                    double timeFactor = TimeUnit != Unit.None ? 1 : UnitMarks.Factor(time);
                    double ratio = counted * UnitMarks.Factor(hours) / (UnitMarks.Factor(amps) * timeFactor);
                    if ((!counts || ratio is > 0.5 and < 2) && Plausible(current, UnitMarks.Factor(amps), timeFactor, flow, times.Length > 1, currents.Length > 1)
                        && (charge is null || ((charge.Hint.Unit != Unit.None || charge.Profile!.LargestMagnitude * UnitMarks.Factor(hours) <= MostAmpereHours)
                            && (counts || CanHaveCounted(charge, flow, UnitMarks.Factor(amps) * timeFactor / UnitMarks.Factor(hours))))))
                    {
                        fits.Add((time, amps, hours));
                    }
                }
            }
        }

        if (fits.Count == 0 && charge is not null && !counts)
        {
            bool stands = charge.Profile!.IsConstant;
            DropCounters(charge);
            charge.Take(ColumnMeaning.Ignored, Unit.None, null, stands ? "a charge that stands still while current flows: a rated value, or the counter of the other direction; left out" : "a charge counter that does not follow the current; left out");
            columns.Notice("charge-disagrees", LargestRow(charge), charge, stands ? "a charge that stands still while current flows" : "a charge counter that the current cannot have filled", "the column was left out");
            SettleUnits(current, null, flow);
            return;
        }

        if (fits.Count == 0)
        {
            if (counts && times.Length == 1 && currents.Length == 1 && charges.Length == 1)
            {
                double ratio = counted * UnitMarks.Factor(charges[0]) / UnitMarks.Factor(currents[0]);
                string found = string.Create(CultureInfo.InvariantCulture, $"a charge counter that runs {ratio:0.###} times as fast as the current of column {current.Column.Index + 1} fills it");
                double factor = flow.CounterPath / flow.CountedIntegral * (flow.CounterBySign < 0 ? -1 : 1);
                bool runsAlong = Flow.Stray(axis, map, current, charge!, factor) <= (0.03 * flow.CounterPath) + (2 * Math.Pow(10, -charge!.Column.MaxDecimals));
                if (IsUnitMistake(ratio) || runsAlong)
                {
                    columns.Refuse("charge-disagrees", 0, charge, found, "correct the units in the header");
                    return;
                }

                columns.Notice("charge-disagrees", LargestRow(charge), charge, found, "the column was left out");
                DropCounters(charge!);
                charge!.Take(ColumnMeaning.Ignored, Unit.None, null, "a charge counter that does not follow the current; left out");
                current.Unit = currents[0];
                return;
            }

            columns.Refuse("unit-unclear", LargestRow(current), current, string.Create(
                CultureInfo.InvariantCulture, $"a current of up to {current.Profile!.LargestMagnitude:0.###} that fits neither A nor mA with the other columns"), "state the units in the header, for instance current [A]");
            return;
        }

        bool bySteps = times.Length > 1 && fits.Select(fit => fit.Time).Distinct().Count() > 1;
        if (bySteps)
        {
            Unit? natural = NaturalTime();
            fits = natural is null ? fits : [.. fits.Where(fit => fit.Time == natural)];
            if (fits.Count == 0 || natural is null || IsTooFast(natural.Value, current))
            {
                RefuseTime();
                return;
            }
        }

        if (currents.Length > 1 && fits.Select(fit => fit.Current).Distinct().Count() > 1)
        {
            NumberProfile profile = current.Profile!;
            Unit? natural = ByResistance(current, flow) ?? (profile.IsConstantZero || (current.Column.MaxDecimals >= 1 && profile.LargestMagnitude < 100 && !_voltages.Exists(v => v.Unit == Unit.Millivolt)) ? Unit.Ampere : null);
            fits = natural is null ? fits : [.. fits.Where(fit => fit.Current == natural)];
            if (natural is null || fits.Count == 0)
            {
                columns.Refuse("ambiguous-unit", 0, current, string.Create(
                    CultureInfo.InvariantCulture, $"a current of up to {profile.LargestMagnitude:0.###} that could be {profile.LargestMagnitude:0.###} A or {profile.LargestMagnitude / 1000:0.######} A"), "state the unit in the header: current [A] or current [mA]");
                return;
            }
        }

        if (charges.Length > 1 && fits.Select(fit => fit.Charge).Distinct().Count() > 1)
        {
            NumberProfile profile = charge!.Profile!;
            Unit? natural = profile.IsConstantZero || (charge.Column.MaxDecimals >= 2 && profile.LargestMagnitude < 100) ? Unit.AmpereHour : profile.LargestMagnitude > 200 ? Unit.MilliampereHour : null;
            if (natural is null)
            {
                DropCounters(charge);
                charge.Take(ColumnMeaning.Ignored, Unit.None, null, "a charge counter that could be Ah or mAh; left out");
                columns.Notice("charge-unit", 0, charge, "a charge counter that could be Ah or mAh", "state the unit in the header; the column was left out");
                charge = null;
            }
            else
            {
                fits = [.. fits.Where(fit => fit.Charge == natural)];
            }
        }

        (Unit timeUnit, Unit currentUnit, Unit chargeUnit) = fits[0];
        double agreement = counted * UnitMarks.Factor(chargeUnit) / (UnitMarks.Factor(currentUnit) * (TimeUnit != Unit.None ? 1 : UnitMarks.Factor(timeUnit)));
        if (columns.MayBeClockDigits && !(Math.Abs(agreement - 1) < 0.05 + (1.5 * Math.Pow(10, -charge?.Column.MaxDecimals ?? 0) / flow.CounterPath)))
        {
            RefuseClockDigits();
            return;
        }

        if (!counts && currentUnit == Unit.Ampere && IsUnanswered(current, flow))
        {
            columns.Refuse("unit-unclear", LargestRow(current), current, string.Create(
                CultureInfo.InvariantCulture, $"a current of up to {current.Profile!.LargestMagnitude:0.###} A whose steps the cells do not answer, as none could leave unanswered"), "correct the unit in the header: current [mA] perhaps");
            return;
        }

        if (!counts && currentUnit == Unit.Milliampere && IsOveranswered(current, flow))
        {
            columns.Refuse("unit-unclear", LargestRow(current), current, string.Create(
                CultureInfo.InvariantCulture, $"a current of up to {current.Profile!.LargestMagnitude:0.###} mA whose steps move the cells as no such current could"), "correct the unit: current [A] perhaps");
            return;
        }

        if (DisprovedByPower(current, currentUnit))
        {
            return;
        }

        TellTime(timeUnit, counts && !bySteps);
        current.Unit = currentUnit;
        if (current.Hint.Unit != Unit.None)
        {
            current.Why = $"{current.Why} in {UnitMarks.Symbol(currentUnit)}";
        }
        else
        {
            current.Why = $"{current.Why}; {UnitMarks.Symbol(currentUnit)} because {(counts && currents.Length > 1 && charges.Length == 1 ? "the charge counter agrees" : ByResistance(current, flow) == currentUnit ? $"only in {UnitMarks.Symbol(currentUnit)} do its steps move the cells as far as a cell's resistance allows" : counts ? "the charge counter agrees" : "nothing else fits its size and digits")}";
        }

        if (charge is not null)
        {
            charge.Unit = chargeUnit;
            charge.Why = counts ? charge.Why.Contains("integral", StringComparison.Ordinal) ? $"{charge.Why}, in {UnitMarks.Symbol(chargeUnit)}" : $"{charge.Why}; it is the integral of the current in {UnitMarks.Symbol(chargeUnit)}" : $"{charge.Why}, taken for {UnitMarks.Symbol(chargeUnit)}";
        }
    }

    // A counter that went by n digits was filled by more than n - 1 of them, whatever was cut off or rounded.
    private static bool CanHaveCounted(ColumnRole charge, Flow flow, double counterUnits)
    {
        double digit = Math.Pow(10, -charge.Column.MaxDecimals);
        // What flickers about zero fills nothing.
        double filled = (flow.CounterPath == 0 ? Math.Min(flow.CountedIntegral, Math.Abs(flow.Integral)) : flow.CountedIntegral) / 3600 * counterUnits;
        return flow.CounterPath - (1.01 * digit) <= 2 * filled && filled <= 2 * (flow.CounterPath + (1.01 * digit));
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

    // The step of the cell voltage over the step of the current is a cell's resistance: no cell has 50 µΩ, none has 5 Ω.
    private Unit? ByResistance(ColumnRole current, Flow flow)
    {
        if (flow.StepSquare == 0 || _voltages.Count == 0)
        {
            return null;
        }

        // Steps that contradict each other prove little: what they move the cells by, whichever way, is the most there can be.
        double ohms = Math.Abs(flow.StepProduct) / flow.StepSquare;
        double most = flow.StepProductSize / flow.StepSquare;
        double unseen = _voltages.Max(v => v.Factor * Math.Pow(10, -v.Column.MaxDecimals)) / current.Profile!.LargestMagnitude;
        bool steps = Math.Abs(flow.StepProduct) >= 0.5 * flow.StepProductSize;
        bool amperes = most + unseen > LeastCellOhms && (!steps || ohms - unseen < MostCellOhms);
        bool milliamperes = (most + unseen) * 1000 > LeastCellOhms && (!steps || (ohms - unseen) * 1000 < MostCellOhms);
        return amperes == milliamperes ? null : amperes ? Unit.Ampere : Unit.Milliampere;
    }

    // A step of 50 A that moves no cell by a millivolt was none of 50 A, whatever the header says.
    private bool IsUnanswered(ColumnRole current, Flow flow)
    {
        double unseen = _voltages.Count == 0 ? double.PositiveInfinity : _voltages.Max(v => v.Factor * Math.Pow(10, -v.Column.MaxDecimals)) / current.Profile!.LargestMagnitude;
        return flow.StepSquare > 0 && (Math.Abs(flow.StepProduct) / flow.StepSquare) + unseen < LeastCellOhms / 10;
    }

    // Steps of 2 mA that move every cell by 50 mV, each the same way, were none of 2 mA, whatever the header says.
    private bool IsOveranswered(ColumnRole current, Flow flow)
    {
        double unseen = _voltages.Count == 0 ? double.PositiveInfinity : _voltages.Max(v => v.Factor * Math.Pow(10, -v.Column.MaxDecimals)) * 1000 / current.Profile!.LargestMagnitude;
        return flow.StepSquare > 0 && Math.Abs(flow.StepProduct) >= 0.8 * flow.StepProductSize && (Math.Abs(flow.StepProduct) / flow.StepSquare * 1000) - (2 * unseen) > 4 * MostCellOhms;
    }

    // The unit of the current with which a named power is the voltage times it: watts, unless its header says milliwatts.
    private Unit? UnitByPower(ColumnRole current) =>
        columns.Roles.FirstOrDefault(role => role is { Meaning: ColumnMeaning.Power, Hint.Quantity: Quantity.Power }) is { } power && PowerProof.Ratio(power, current, PackOrCells()) is double ratio
            ? (power.Hint.Unit == Unit.Milliwatt ? ratio / 1000 : ratio) switch { > 0.5 and < 2 => Unit.Ampere, < 0.002 and > 0.0005 => Unit.Milliampere, _ => null }
            : null;

    private bool DisprovedByPower(ColumnRole current, Unit unit)
    {
        if (UnitByPower(current) is not { } byPower || byPower == unit)
        {
            return false;
        }

        columns.Refuse("unit-unclear", LargestRow(current), current, string.Create(
            CultureInfo.InvariantCulture, $"a current of up to {current.Profile!.LargestMagnitude:0.###} {UnitMarks.Symbol(unit)}, while voltage and power say {UnitMarks.Symbol(byPower)}"), $"correct the units in the header: current [{UnitMarks.Symbol(byPower)}] perhaps");
        return true;
    }

    // The counter of discharging means nothing without that of charging.
    private void DropCounters(ColumnRole charge)
    {
        if (charge.Meaning == ColumnMeaning.ChargeIn)
        {
            columns.Single(ColumnMeaning.ChargeOut)?.Take(ColumnMeaning.Ignored, Unit.None, null, "left out with the counter of charging");
        }
    }

    private static bool IsUnitMistake(double ratio) => Ratios().Skip(1).Any(r => Math.Abs((ratio / r) - 1) < 0.3 || Math.Abs((ratio * r) - 1) < 0.3);

    private bool Plausible(ColumnRole current, double amps, double time, Flow flow, bool timeOpen, bool currentOpen)
    {
        double most = current.Profile!.LargestMagnitude * amps;
        double ampereHours = flow.AbsoluteIntegral * amps * time / 3600 / map.Count;
        if (!timeOpen && !currentOpen)
        {
            return true;
        }

        if (currentOpen && !current.Profile.IsConstantZero && (most > LikelyAmperes || most < LeastAmperes))
        {
            return false;
        }

        // Cells that went through a third of their range were filled or emptied by more than the smallest pack holds.
        if (currentOpen && IsTooLittle(flow, amps * time))
        {
            return false;
        }

        if (ampereHours > MostAmpereHours)
        {
            return false;
        }

        double step = flow.Seconds * time / Math.Max(1, current.Profile.Count - 1);
        // Readings of a pack in store come every few hours.
        bool isHours = time == 1 && step <= 100_000 && UsualStep(step) % 3600 == 0;
        return !timeOpen || (step >= 0.005 && (step <= 4000 || isHours));
    }

    // Net of what the resistance does, for the first and the last row may be under load.
    private static bool IsTooLittle(Flow flow, double factor) =>
        Math.Abs(flow.DriftWhilePositive) + Math.Abs(flow.DriftWhileNegative) > LargeDrift && flow.AbsoluteIntegral * factor / 3600 < SmallestPackAmpereHours / 3;

    // Which unit a bare row of numbers suggests; null where two do.
    private Unit? NaturalTime()
    {
        NumberProfile profile = timeRole.Profile!;
        if (profile.Count < 2)
        {
            return Unit.Second;
        }

        double step = UsualStep(profile.SumOfSteps / (profile.Count - 1));
        bool round = RoundSteps.Any(r => Math.Abs((step / r) - 1) < 0.02);
        if (timeRole.Column.MaxDecimals > 0 && step < 90)
        {
            return step < 0.5 ? null : Unit.Second;
        }

        return step >= 950 && round ? Unit.Millisecond : step >= 90 && round ? null : step > 4000 ? null : Unit.Second;
    }

    // A gap must not pass for a step: the middle one counts.
    private double UsualStep(double mean)
    {
        double[] values = LogColumns.Values(timeRole, 0, 1);
        double[] steps = [.. values.Skip(1).Zip(values, (next, value) => next - value).Where(step => step > 0)];
        return steps.Length == 0 ? mean : Selection.At(steps, steps.Length / 2);
    }

    private void SettleTimeByStep()
    {
        if (columns.MayBeClockDigits)
        {
            RefuseClockDigits();
            return;
        }

        Unit? natural = NaturalTime();
        if (natural is null || IsTooFast(natural.Value, null))
        {
            RefuseTime();
            return;
        }

        TellTime(natural.Value, false);
    }

    // In seconds the cells would have gone from empty to full within minutes. Decimals then say minutes; whole numbers are seconds nearly always.
    private bool IsTooFast(Unit natural, ColumnRole? current)
    {
        if (natural != Unit.Second)
        {
            return false;
        }

        bool decimals = timeRole.Column.MaxDecimals > 0;
        bool tooFast = ChargeRate.IsImpossible(axis, map, _voltages, current, 1);
        if (tooFast != decimals)
        {
            columns.Notice(
                "time-unit-assumed", 0, timeRole, $"a time without a unit, taken for seconds{(tooFast ? ", in which the cells went faster than packs do" : "")}",
                string.Create(CultureInfo.InvariantCulture, $"if it is minutes, state it in the header, time [min]; or in a reading guide: {{ \"index\": {timeRole.Column.Index + 1}, \"meaning\": \"elapsed-time\", \"unit\": \"min\" }}"));
        }

        return tooFast && decimals;
    }

    private void TellTime(Unit unit, bool counts)
    {
        if (TimeUnit == Unit.None)
        {
            TimeUnit = unit;
            timeRole.Unit = unit;
            timeRole.Why = $"{timeRole.Why}; {UnitMarks.Symbol(unit)} because {(counts ? "the charge counter agrees with the current only so" : "its steps suggest nothing else")}";
        }
    }

    private void RefuseClockDigits() => columns.Refuse(
        "ambiguous-time", 0, timeRole, "numbers that could be hours, minutes and seconds without colons", "write the time with colons, or state its unit in the header: time [s]");

    private void RefuseTime() => columns.Refuse(
        "ambiguous-time-unit", 0, timeRole, timeRole.Column.MaxDecimals > 0 ? "a time column that could be in seconds, in minutes or in hours" : "a time column that could be in seconds or in milliseconds",
        "state the unit in the header: time [s], time [min] or time [ms]");

    private static double Drift(Flow flow) => flow.DriftWhilePositive - flow.DriftWhileNegative;

    private void SettleSign(ColumnRole current, ColumnRole? charge, Flow flow, FlowDirection told)
    {
        charge = charge is { IsUsed: true } ? charge : null;
        bool negated = false;
        string because;

        // A written sign is turned, or a stated one doubted, by what no single row can have made.
        List<int> sure = [.. new[] { told.Hold, told.StepsAreSure ? told.Steps : 0, told.CourseIsSure ? told.Course : 0 }.Where(sign => sign != 0)];
        if (columns.Guide?.ChargingIsPositive is bool chargingPositive)
        {
            negated = !chargingPositive;
            because = "the guide says so";
            if (Contradicts(chargingPositive ? 1 : -1))
            {
                columns.Refuse("direction-unclear", 0, current, "a guide that says one direction while the cells go the other", "correct positiveCurrent in the guide");
                return;
            }
        }
        else if (current.HasProvedSign)
        {
            because = "modes or counters say so, and the cells do not contradict";
            if (Contradicts(1))
            {
                columns.Refuse("direction-unclear", 0, current, "modes or counters that say one direction while the cells go the other", "check the columns of mode and current");
                return;
            }
        }
        else if (flow.Positive + flow.Negative == 0)
        {
            because = "the current is zero throughout, so its sign does not matter";
        }
        else if (told.Modes != 0)
        {
            negated = told.Modes < 0;
            because = "the modes say so, and the cells do not contradict";
            if (Contradicts(told.Modes))
            {
                columns.Refuse("direction-unclear", 0, current, "modes that say one direction while the cells go the other", "check the columns of mode and current");
                return;
            }
        }
        else if (flow.Negative == 0 && RunsBothWays(told))
        {
            columns.Refuse("direction-unclear", 0, current, "a current without a sign in a log that both charges and discharges", "log the current with its sign, or with a column that says charge or discharge");
            return;
        }
        else if ((current.Hint.IsOut || current.Hint.IsIn) && flow.Negative == 0)
        {
            negated = current.Hint.IsOut;
            because = negated ? "its header names the discharge" : "its header names the charge";
            if (Contradicts(negated ? -1 : 1))
            {
                columns.Refuse("direction-unclear", 0, current, $"a current headed as {(negated ? "discharge" : "charge")} while the cells go the other way", "correct the header");
                return;
            }
        }
        else if (sure.Distinct().Count() == 2)
        {
            columns.Refuse("direction-unclear", 0, current, "a current whose steps and whose course contradict each other about its sign", "check which column is the current");
            return;
        }
        else if (sure.Count > 0)
        {
            negated = sure[0] < 0;
            because = told.Hold != 0 ? "the cells are held at their highest voltage while it falls off, as only charging does"
                : told.StepsAreSure ? $"the cells {(negated ? "fall" : "rise")} when it steps up" : $"the cells {(negated == (flow.Positive > 0) ? "fall" : "rise")} while it flows";
        }
        else if (told.Steps < 0 || told.Course < 0)
        {
            if (told.Steps > 0 || told.Course > 0 || (told.Steps == 0 && flow.Negative > 0))
            {
                columns.Refuse("direction-unclear", 0, current, "a current of which too little tells whether positive means charging", "say so in a reading guide: \"positiveCurrent\": \"charge\" or \"discharge\"");
                return;
            }

            negated = true;
            because = told.Steps < 0 ? "the cells fall when it steps up" : "the cells fall while it flows";
            if (told.Steps == 0 || told.Course == 0)
            {
                columns.Notice("sign-by-little", 0, current, "a current whose sign little in the log tells", "it was taken for discharging; if it is not, say so with a reading guide");
            }
        }
        else if (told.Steps > 0 || told.Course > 0)
        {
            because = told.Steps > 0 ? "the cells rise when it steps up" : "the cells rise while it flows";
        }
        else
        {
            because = flow.Negative == 0 ? "nothing in the log contradicts charging" : "nothing in the log contradicts charging as positive";
            columns.Notice("sign-assumed", 0, current, "a current whose sign nothing in the log confirms", "charging was taken as positive; if it is not, say so with a reading guide");
        }

        // Two kinds of evidence, or the surest of one that no other upholds.
        bool Contradicts(int sign) => sure.Contains(-sign) && !sure.Contains(sign) && told.Steps != sign && told.Course != sign;

        current.Negated = negated;
        current.Why = $"{current.Why}; {(negated ? "turned round so that charging is positive" : "charging is positive")}: {because}";
        if (charge is not null)
        {
            if (flow.CounterPath > 0 && Math.Abs(flow.CounterBySign) < 0.5 * flow.CounterPath && flow.CounterPath >= 8 * Math.Pow(10, -charge.Column.MaxDecimals))
            {
                DropCounters(charge);
                charge.Take(ColumnMeaning.Ignored, Unit.None, null, "a counter that follows the current now with, now against its sign; left out");
                columns.Notice("charge-sign", 0, charge, "a charge counter whose sign is unclear", "the column was left out");
                return;
            }

            charge.Negated = negated != (flow.CounterBySign < 0);
        }
    }

    // A current without negative values under which the cells now rise, now fall: its sign is missing, not positive. Cells that recover from a
    // heavier load rise by little; those that charge rise about as far as they fall.
    private static bool RunsBothWays(FlowDirection told) =>
        told.StepsDisagree || (Math.Min(told.Rise, told.Fall) > 0.02 && Math.Min(told.Rise, told.Fall) > 0.3 * Math.Max(told.Rise, told.Fall));

    private void SettleEnergy(ColumnRole current)
    {
        ColumnRole? energy = columns.Single(ColumnMeaning.Energy);
        if (energy is null)
        {
            return;
        }

        Flow flow = Flow.Measure(axis, map, _voltages, current, energy);
        double volts = _voltages.Sum(v => (v.Profile!.Min + v.Profile.Max) / 2 * v.Factor);
        double expected = flow.CountedIntegral * current.Factor * (TimeUnit == Unit.None ? 1 : TimeFactor()) * volts / 3600;
        bool counts = CountsEnough(energy, flow) && expected > 0;
        Unit[] units = energy.Hint.Unit != Unit.None ? [energy.Hint.Unit] : [Unit.WattHour, Unit.MilliwattHour];
        Unit[] fits = [.. units.Where(unit => counts ? flow.CounterPath * UnitMarks.Factor(unit) / expected is > 0.5 and < 2 : units.Length == 1)];
        if (fits.Length != 1)
        {
            if (energy.Profile!.IsConstantZero)
            {
                energy.Unit = units[0];
                return;
            }

            energy.Take(ColumnMeaning.Ignored, Unit.None, null, "an energy counter that voltage and current do not confirm; left out");
            columns.Notice("energy-unconfirmed", 0, energy, "an energy counter that voltage and current do not confirm", "the column was left out");
            return;
        }

        energy.Unit = fits[0];
        energy.Negated = current.Negated != (flow.CounterBySign < 0);
        energy.Why = counts ? $"{energy.Why}; it is the integral of voltage times current in {UnitMarks.Symbol(fits[0])}" : $"{energy.Why} in {UnitMarks.Symbol(fits[0])}";
    }

    private double TimeFactor() => timeRole.Hint.Unit == Unit.None && timeRole.Profile is not null ? UnitMarks.Factor(TimeUnit) : 1;

    /// <summary>Refuses what no sensor can have measured.</summary>
    internal static void CheckRanges(LogColumns columns)
    {
        var found = new List<InputProblem>();
        foreach (ColumnRole role in columns.Roles.Where(role => role.Profile is { Count: > 0 }))
        {
            (double low, double high, string what) = role.Meaning switch
            {
                ColumnMeaning.CellVoltage => (0, VoltageFinder.HighestCell, "a cell voltage"),
                ColumnMeaning.Current => (-MostAmperes, MostAmperes, "a current"),
                ColumnMeaning.Temperature => (-60.0, 200.0, "a temperature"),
                _ => (double.NegativeInfinity, double.PositiveInfinity, ""),
            };
            if (what.Length == 0)
            {
                continue;
            }

            Func<double, double> convert = role.Meaning == ColumnMeaning.Temperature ? value => OtherFinder.ToCelsius(value, role.Unit) : value => value * role.Factor;
            if (convert(role.Profile!.Min) < low || convert(role.Profile.Max) > high)
            {
                int? row = LogColumns.FirstRow(role, 1, value => convert(value) < low || convert(value) > high);
                found.Add(Refusals.Refuse("impossible-value", row is int r ? columns.Table.LineOf(r) : null, role.Column.Index + 1, $"a value that {what} cannot have", "correct or remove that line"));
            }
        }

        if (found.Count > 0)
        {
            columns.Problems.Add(found.OrderBy(problem => problem.Line).First());
        }
    }

    /// <summary>Refuses what devices write in place of a reading.</summary>
    internal static void CheckSentinels(LogColumns columns)
    {
        var found = new List<InputProblem>();
        foreach (ColumnRole role in columns.Roles.Where(role => role.Profile is { Count: > 0, IsConstant: false }
            && role.Meaning is ColumnMeaning.CellVoltage or ColumnMeaning.PackVoltage or ColumnMeaning.Current or ColumnMeaning.Temperature or ColumnMeaning.CellResistance
                or ColumnMeaning.Charge or ColumnMeaning.Energy))
        {
            bool counts = role.Meaning is ColumnMeaning.Charge or ColumnMeaning.Energy;
            foreach (double sentinel in (counts ? CounterSentinels : Sentinels).Where(sentinel => (role.Profile!.Min == sentinel || role.Profile.Max == sentinel) && StandsAlone(role, sentinel)))
            {
                int? row = LogColumns.FirstRow(role, 1, value => value == sentinel);
                found.Add(Refusals.Refuse("sentinel", row is int r ? columns.Table.LineOf(r) : null, role.Column.Index + 1, string.Create(CultureInfo.InvariantCulture, $"{sentinel:0}, which devices write when they have no reading"), "clear that value, or remove that line"));
            }
        }

        if (found.Count > 0)
        {
            columns.Problems.Add(found.OrderBy(problem => problem.Line).First());
        }
    }

    // A pack of eight cells passes through 32767 mV on its way: what a device writes for no reading is nowhere near the readings.
    private static bool StandsAlone(ColumnRole role, double sentinel) =>
        LogColumns.FirstRow(role, 1, value => value != sentinel && Math.Abs(value - sentinel) < 0.05 * Math.Abs(sentinel)) is null;

    private static readonly double[] CounterSentinels = [2_147_483_647, -2_147_483_648, 4_294_967_295];

    private static readonly double[] Sentinels = [65_535, 32_767, -32_768, 2_147_483_647, -2_147_483_648, 4_294_967_295, 99_999, -99_999, -9999];
}
