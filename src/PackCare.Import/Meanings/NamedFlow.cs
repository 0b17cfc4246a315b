using PackCare.Core.Reading;

namespace PackCare.Import.Meanings;

/// <summary>Chooses the current and its counter among the columns that headers name so.</summary>
internal sealed class NamedFlow(FlowLog log, CounterFit integrals, CurrentShape shape)
{
    private const double GoodFit = 0.1;
    private const double WorstFit = 1;

    /// <summary>The current, or null: where there is none, or where several are and the log is refused.</summary>
    internal ColumnRole? ChooseCurrent()
    {
        List<ColumnRole> currents = [.. log.Columns.OfMeaning(ColumnMeaning.Current)];
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
            log.Columns.Refuse(
                "ambiguous-current", null, currents[1], $"columns {currents[0].Column.Index + 1} and {currents[1].Column.Index + 1} both name the current", "remove one of them, or rename the one that is not the pack's");
            return null;
        }

        return currents.FirstOrDefault();
    }

    // The one that a counter or a power proves while the others are set values, which keep still for long stretches.
    private ColumnRole? TrueCurrent(List<ColumnRole> currents)
    {
        List<ColumnRole> moving = [.. currents.Where(role => role.Profile!.Rises + role.Profile.Falls > 0.1 * role.Profile.Count)];
        List<ColumnRole> counters = [.. log.Columns.OfMeaning(ColumnMeaning.Charge)];
        List<ColumnRole> powers = [.. log.Columns.OfMeaning(ColumnMeaning.Power)];
        List<ColumnRole> proved = [.. currents.Where(role => counters.Exists(counter => integrals.IsIntegral(role, counter)) || powers.Exists(power => PowerProof.Ratio(power, role, log.PackOrCells()) is not null))];
        return proved.Count == 1 && !moving.Exists(role => role != proved[0]) ? proved[0]
            : proved.Count == 0 && currents.Count(role => !role.Profile!.IsConstant) == 1 && currents.Find(role => !role.Profile!.IsConstant) is { } one && shape.CanBeCurrent(one) ? one : null;
    }

    /// <summary>Of several counters that headers name, the one that the current fills: that of the other direction stands still.</summary>
    internal ColumnRole? ChooseCharge(ColumnRole? current)
    {
        List<ColumnRole> named = [.. log.Columns.OfMeaning(ColumnMeaning.Charge)];
        if (named.Count > 1 && current is not null)
        {
            List<(ColumnRole Role, double Misfit)> fits = [.. named.Select(role => (role, integrals.Misfit(current, role))).OrderBy(fit => fit.Item2)];
            if (!(fits[0].Misfit < WorstFit))
            {
                foreach (ColumnRole role in named)
                {
                    role.Take(ColumnMeaning.Ignored, Unit.None, null, "one of several charge counters of which none is the current's; left out");
                }

                log.Columns.Notice("charge-unconfirmed", null, named[0], "several charge counters of which none is what the current comes to", "they were left out; if one counts charging and one discharging, say so in their headers or with a reading guide");
                return null;
            }

            // A counter that begins at nought is this log's; one that goes on from before is the meter's.
            return fits.Where(fit => fit.Misfit < Math.Max(GoodFit, 2 * fits[0].Misfit)).MinBy(fit => Math.Abs(fit.Role.Profile!.First)).Role;
        }

        return named.FirstOrDefault() ?? log.Columns.Single(ColumnMeaning.ChargeIn);
    }
}
