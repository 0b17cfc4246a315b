namespace PackCare.Import.Meanings;

/// <summary>Tells whether a counter is the integral of a current over time, in some units of both.</summary>
internal sealed class CounterFit(FlowLog log)
{
    private static readonly double[] Ratios = [1, 1000, 0.001, 60, 3600, 60_000, 3_600_000];

    /// <summary>Whether it is: in total within 5 %, and along the way within 3 % and a few digits of the counter.</summary>
    internal bool IsIntegral(ColumnRole current, ColumnRole charge) => Misfit(current, charge) < 1;

    /// <summary>How far the counter is from the integral of the current in what may be tolerated, at the nearest ratio that units allow.</summary>
    internal double Misfit(ColumnRole current, ColumnRole charge)
    {
        Flow flow = log.Measure(current, charge);
        if (!CountsEnough(charge, flow))
        {
            return double.PositiveInfinity;
        }

        double ratio = flow.CounterPath * 3600 / flow.CountedIntegral;
        double[] ratios = log.TimeUnit == Unit.None ? Ratios : Ratios[..3];
        double nearest = ratios.MinBy(r => Math.Abs((ratio / r) - 1));
        if (Math.Abs((ratio / nearest) - 1) > 0.05 + (1.5 * Math.Pow(10, -charge.Column.MaxDecimals) / flow.CounterPath))
        {
            return double.PositiveInfinity;
        }

        // Minutes against seconds make sixty, and so do the volts of a pack of fifteen cells: what looks like a charge is then the energy.
        double volts = log.MeanVolts;
        if (charge.Hint.Quantity == Quantity.Unknown && nearest is 60 or 60_000 && ratio / (nearest / 60) / volts is > 0.85 and < 1.15)
        {
            return double.PositiveInfinity;
        }

        double factor = flow.CounterPath / flow.CountedIntegral * (flow.CounterBySign < 0 ? -1 : 1);
        double tolerated = (0.03 * flow.CounterPath) + (2 * Math.Pow(10, -charge.Column.MaxDecimals));
        return log.Stray(current, charge, factor) / tolerated;
    }

    /// <summary>The same more strictly, for what is not to be taken for anything else: within 2 % and one digit.</summary>
    internal bool RunsAlong(ColumnRole current, ColumnRole role)
    {
        Flow flow = log.Measure(current, role);
        double digit = 1.01 * Math.Pow(10, -role.Column.MaxDecimals);
        if (!CountsEnough(role, flow))
        {
            return false;
        }

        double ratio = flow.CounterPath * 3600 / flow.CountedIntegral;
        double factor = flow.CounterPath / flow.CountedIntegral * (flow.CounterBySign < 0 ? -1 : 1);
        return (log.TimeUnit == Unit.None ? Ratios : Ratios[..3]).Any(r => Math.Abs((ratio / r) - 1) <= 0.02 + (digit / flow.CounterPath))
            && log.Stray(current, role, factor) <= (0.02 * flow.CounterPath) + digit;
    }

    /// <summary>Whether two columns go by the same amounts, in the same or in milli-units, up to the last digit of both.</summary>
    internal static bool CountsAlike(ColumnRole charge, ColumnRole role)
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

    /// <summary>
    /// Whether a temperature may look like this counter: under a steady current any slow change of about the right size follows the integral; a counter
    /// that is one begins at zero, or bends where the current does.
    /// </summary>
    internal bool MayBeTemperatureAlone(ColumnRole charge, ColumnRole current) =>
        charge.Hint.Quantity == Quantity.Unknown && charge.Profile!.First != 0
        && ((TemperatureShape.CanBeTemperature(charge) && Misfit(current, charge) >= 0.1) || charge.Profile.Max - charge.Profile.Min < 12 * Math.Pow(10, -charge.Column.MaxDecimals));

    /// <summary>Whether the counter moved by enough digits to be compared with anything.</summary>
    internal static bool CountsEnough(ColumnRole charge, Flow flow)
    {
        double resolution = Math.Pow(10, -charge.Column.MaxDecimals);
        return flow.CounterPath >= 4 * resolution && flow.CountedIntegral > 0;
    }

    /// <summary>Whether a counter that runs so many times too fast was headed with a wrong unit.</summary>
    internal static bool IsUnitMistake(double ratio) => Ratios.Skip(1).Any(r => Math.Abs((ratio / r) - 1) < 0.3 || Math.Abs((ratio * r) - 1) < 0.3);
}
