using PackCare.Core.Reading;

namespace PackCare.Import.Meanings;

/// <summary>Finds the current, and its counter, among columns whose headers say nothing.</summary>
internal sealed class UnnamedFlow(FlowLog log, CounterFit integrals, CurrentShape shape, FlowPowers powers, LeftOverTemperatures temperatures)
{
    // In fewer rows anything may seem to go along with the cells.
    private const int LeastRows = 8;

    /// <summary>Current and counter: they prove each other, and what is left over is named by exclusion.</summary>
    internal (ColumnRole? Current, ColumnRole? Charge) Find(ColumnRole? namedCharge)
    {
        List<ColumnRole> unknown = log.Unknown();
        if (powers.Current() is { } proof)
        {
            proof.Take(ColumnMeaning.Current, Unit.None, null, "times the voltage it is in every row another column, the power");
            powers.Name(proof);
            ColumnRole? counter = namedCharge ?? Counter(proof, 1);
            temperatures.Take(proof, counter);
            return (proof, counter);
        }

        var pairs = new List<(ColumnRole Current, ColumnRole Charge)>();
        foreach (ColumnRole current in unknown.Where(role => role.Profile!.IsConstant || role.Profile.LargestMagnitude > 4 || !CurrentShape.IsFlag(role)))
        {
            foreach (ColumnRole charge in namedCharge is null ? unknown : [namedCharge])
            {
                if (charge != current && !current.Profile!.IsConstantZero && (charge == namedCharge || !RisingTime.CountsOn(charge, current)) && integrals.IsIntegral(current, charge) && !integrals.MayBeTemperatureAlone(charge, current))
                {
                    pairs.Add((current, charge));
                }
            }
        }

        // What never changes is a set value where another column moves as a current does.
        pairs.RemoveAll(pair => pair.Current.Profile!.IsConstant && unknown.Exists(role => role != pair.Current && role != pair.Charge && !role.Profile!.IsConstant && !CurrentShape.IsFlag(role) && !TemperatureShape.CanBeTemperature(role) && shape.CanBeCurrent(role)));

        // A power and an energy relate as current and charge do; where another column may be the current of that power, they are no proof.
        pairs.RemoveAll(pair => unknown.Exists(role => role != pair.Current && role != pair.Charge && PowerProof.IsPossible(pair.Current, role, log.PackOrCells())));
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
            List<(ColumnRole Current, ColumnRole Charge)> sure = [.. pairs.Where(pair => !TemperatureShape.CanBeTemperature(pair.Current))];
            pairs = sure.Count > 0 ? sure : pairs;

            // A share of charge follows the integral as well, in a hundred steps at most; a counter has many more.
            List<(ColumnRole Current, ColumnRole Charge)> fine = [.. pairs.Where(pair => integrals.Misfit(pair.Current, pair.Charge) < 0.5).OrderByDescending(pair => Digits(pair.Charge)).Take(2)];
            if (fine.Count == 2 && Digits(fine[0].Charge) > 10 * Digits(fine[1].Charge))
            {
                pairs = [fine[0]];
            }

            // What matches by chance matches badly: the true pair agrees to the counter's last digit.
            List<double> misfits = [.. pairs.Select(pair => integrals.Misfit(pair.Current, pair.Charge))];
            double best = misfits.Min();
            if (misfits.Count(misfit => misfit < Math.Max(5 * best, 0.3)) == 1)
            {
                pairs = [pairs[misfits.IndexOf(best)]];
            }

            pairs = [.. pairs.GroupBy(pair => pair.Current).Count() == 1 ? pairs.OrderBy(pair => integrals.Misfit(pair.Current, pair.Charge)).Take(1) : pairs];
        }

        if (pairs.Count > 1)
        {
            log.Columns.Refuse("ambiguous-current", null, pairs[0].Current, $"columns {pairs[0].Current.Column.Index + 1} and {pairs[1].Current.Column.Index + 1} could both be the current", "name the columns in a header, for instance current_a");
            return (null, null);
        }

        if (pairs.Count == 1)
        {
            (ColumnRole current, ColumnRole charge) = pairs[0];
            current.Take(ColumnMeaning.Current, Unit.None, null, $"column {charge.Column.Index + 1} is its integral over time");
            powers.Name(current);
            if (charge != namedCharge)
            {
                charge.Take(ColumnMeaning.Charge, Unit.None, null, $"it is the integral of column {current.Column.Index + 1} over time");
            }

            temperatures.Take(current, charge);
            return pairs[0];
        }

        // What never changes is no current for want of another: the cells do not answer to it.
        List<ColumnRole> candidates = [.. unknown.Where(role => !role.Profile!.IsConstant && !CurrentShape.IsFlag(role) && shape.CanBeCurrent(role))];
        List<ColumnRole> warm = [.. unknown.Where(TemperatureShape.CanBeTemperature)];
        List<ColumnRole> only = [.. candidates.Where(role => !warm.Contains(role))];
        if (only.Count == 1 && only[0].Profile!.Count >= LeastRows && !shape.IsOneOfSeveral(only[0], unknown) && !shape.LeavesStepUnanswered(only[0]))
        {
            bool answered = FlowDirection.Of(log.RowsOf(only[0], null)).StepsAreSure;
            return (ForWantOfAnother(only[0], answered, answered
                ? "of the columns that are left it alone can be a current: the cell voltages answer to it, and it is no temperature"
                : "of the columns that are left it alone can be a current: the cells fill or empty meanwhile, and it is no temperature"), null);
        }

        if (candidates.Count == 0 && SteadyCurrent(unknown) is { } steady)
        {
            return (ForWantOfAnother(steady, proved: false, "it never changes, as a steady current may, and the cells fill or empty meanwhile; nothing else is left that could be the current"), null);
        }

        if (candidates.Count == 0)
        {
            candidates = [.. unknown.Where(role => !role.Profile!.IsConstant && !warm.Contains(role) && !(role.Column.MaxDecimals == 0 && role.Profile.LargestStep == 1 && role.Profile.Rises == role.Profile.Count - 1) && role.Profile.Falls + role.Profile.Rises > 0)];
        }

        // Words that say nothing are no header either.
        if (candidates.Count >= 1 && (!log.Columns.Table.Frame.HasHeader || Array.TrueForAll(log.Columns.Roles, role => role.Hint.Quantity == Quantity.Unknown)))
        {
            List<ColumnRole> open = only.Count > 1 ? only : candidates;
            string names = string.Join(" or ", open.Take(3).Select(role => role.Column.Index + 1));
            log.Columns.Refuse(
                "ambiguous-current", 0, open[0], $"column {names} could be the current{(open.Count == 1 && warm.Contains(open[0]) ? ", or a temperature" : "")}, and nothing proves it",
                $"name the columns in a header, for instance current_a; or in a reading guide: {{ \"index\": {open[0].Column.Index + 1}, \"meaning\": \"current\", \"unit\": \"A\" }}");
        }

        return (null, null);
    }

    private static double Digits(ColumnRole role) => (role.Profile!.Max - role.Profile.Min) * Math.Pow(10, role.Column.MaxDecimals);

    private ColumnRole ForWantOfAnother(ColumnRole role, bool proved, string why)
    {
        role.Take(ColumnMeaning.Current, Unit.None, null, why);
        temperatures.Take(role, null);
        if (!proved)
        {
            log.Columns.Notice("current-by-elimination", 0, role, "a column without a telling header that was taken for the current, as nothing else could be it", "if it is none, leave it out with a reading guide");
        }

        return role;
    }

    // The only column of its kind that never changes. One without decimals is rather a rated capacity or a setting, unless it is negative.
    private ColumnRole? SteadyCurrent(List<ColumnRole> unknown)
    {
        List<ColumnRole> steady = [.. unknown.Where(role => role.Profile is { IsConstant: true, IsConstantZero: false })];
        return steady.Count == 1 && steady[0] is { Profile.LargestMagnitude: >= 0.05 and <= 100 } one && (one.Column.MaxDecimals is 2 or 3 || one.Profile!.Max < 0) && shape.CanBeCurrent(one) && !shape.LeavesStepUnanswered(one) ? one : null;
    }

    /// <summary>The one column whose header says nothing, but which is the integral of the current to the last digit.</summary>
    internal ColumnRole? Counter(ColumnRole current, double most = 0.3)
    {
        if (current.Profile!.IsConstantZero)
        {
            return null;
        }

        List<ColumnRole> found = [.. log.Unknown().Where(role => !RisingTime.CountsOn(role, current) && integrals.Misfit(current, role) < most && !integrals.MayBeTemperatureAlone(role, current))];
        if (found.Count != 1)
        {
            return null;
        }

        found[0].Take(ColumnMeaning.Charge, Unit.None, null, $"it is the integral of column {current.Column.Index + 1} over time");
        return found[0];
    }

    private bool IsPowerOfAnother(ColumnRole role, List<(ColumnRole Current, ColumnRole Charge)> pairs)
    {
        double volts = log.MeanVolts;
        return pairs.Any(pair => pair.Current != role && pair.Current.Profile!.LargestMagnitude > 0
            && role.Profile!.LargestMagnitude / pair.Current.Profile.LargestMagnitude is double ratio
            && (Math.Abs((ratio / volts) - 1) < 0.3 || Math.Abs((ratio * 1000 / volts) - 1) < 0.3));
    }
}
