using PackCare.Core.Reading;

namespace PackCare.Import.Meanings;

/// <summary>Settles unit and sign of an energy counter by voltage and current.</summary>
internal sealed class EnergyUnit(FlowLog log)
{
    /// <summary>Settles them, or leaves the counter out.</summary>
    internal void Settle(ColumnRole current)
    {
        ColumnRole? energy = log.Columns.Single(ColumnMeaning.Energy);
        if (energy is null)
        {
            return;
        }

        Flow flow = log.Measure(current, energy);
        double volts = log.MeanVolts;
        double expected = flow.CountedIntegral * current.Factor * (log.TimeUnit == Unit.None ? 1 : TimeFactor()) * volts / 3600;
        bool counts = CounterFit.CountsEnough(energy, flow) && expected > 0;
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
            log.Columns.Notice("energy-unconfirmed", 0, energy, "an energy counter that voltage and current do not confirm", "the column was left out");
            return;
        }

        energy.Unit = fits[0];
        energy.Negated = current.Negated != (flow.CounterBySign < 0);
        energy.Why = counts ? $"{energy.Why}; it is the integral of voltage times current in {UnitMarks.Symbol(fits[0])}" : $"{energy.Why} in {UnitMarks.Symbol(fits[0])}";
    }

    private double TimeFactor() => log.Time.Hint.Unit == Unit.None && log.Time.Profile is not null ? UnitMarks.Factor(log.TimeUnit) : 1;
}
