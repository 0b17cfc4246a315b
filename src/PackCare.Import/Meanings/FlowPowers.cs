using PackCare.Core.Reading;

namespace PackCare.Import.Meanings;

/// <summary>Tells power and current from each other among columns whose headers say nothing.</summary>
internal sealed class FlowPowers(FlowLog log)
{
    /// <summary>Names the powers of a current: what is the current times the voltage in every row is a power, and nothing else.</summary>
    internal void Name(ColumnRole current)
    {
        foreach (ColumnRole role in log.Unknown().Where(role => PowerProof.Ratio(role, current, log.PackOrCells()) is not null).ToList())
        {
            role.Take(ColumnMeaning.Power, Unit.None, null, $"it is column {current.Column.Index + 1} times the voltage in every row: a power; not stored, voltage and current give it");
        }
    }

    /// <summary>The current: another column is in every row the voltage times it. Null where nothing is, or several could be.</summary>
    internal ColumnRole? Current()
    {
        List<ColumnRole> unknown = log.Unknown();
        List<ColumnRole> volts = log.PackOrCells();
        List<ColumnRole> powers = [.. unknown, .. log.Columns.OfMeaning(ColumnMeaning.Power)];
        var proved = new List<(ColumnRole Current, ColumnRole Power)>();
        foreach (ColumnRole current in unknown.Where(role => !CurrentShape.IsFlag(role)))
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

    /// <summary>The unit of the current with which a named power is the voltage times it: watts, unless its header says milliwatts.</summary>
    internal Unit? UnitOf(ColumnRole current) =>
        log.Columns.Roles.FirstOrDefault(role => role is { Meaning: ColumnMeaning.Power, Hint.Quantity: Quantity.Power }) is { } power && PowerProof.Ratio(power, current, log.PackOrCells()) is double ratio
            ? (power.Hint.Unit == Unit.Milliwatt ? ratio / 1000 : ratio) switch { > 0.5 and < 2 => Unit.Ampere, < 0.002 and > 0.0005 => Unit.Milliampere, _ => null }
            : null;
}
