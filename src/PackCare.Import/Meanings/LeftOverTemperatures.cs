using System.Globalization;
using PackCare.Core.Reading;

namespace PackCare.Import.Meanings;

/// <summary>Takes columns that are left over for temperatures, where they could be nothing else.</summary>
internal sealed class LeftOverTemperatures(FlowLog log, CounterFit integrals, CurrentShape shape)
{
    /// <summary>Takes them, once the current and its counter are known.</summary>
    internal void Take(ColumnRole current, ColumnRole? charge)
    {
        int sensor = log.Columns.OfMeaning(ColumnMeaning.Temperature).Count();
        List<ColumnRole> unknown = log.Unknown();
        foreach (ColumnRole role in unknown.Where(TemperatureShape.CanBeTemperature))
        {
            if (shape.IsOneOfSeveral(role, unknown))
            {
                role.Why = "as many columns alike as there are cells: a resistance or a temperature of each; left out";
                log.Columns.Notice("resistance-or-temperature", 0, role, "a column that could be a resistance or a temperature", "name it in a header, for instance temp_c; it was left out");
                continue;
            }

            if (MayBeShare(current, role))
            {
                role.Why = "it follows the charge, as a share of it in percent would, or a temperature may; left out";
                log.Columns.Notice("share-or-temperature", 0, role, "a column that could be a state of charge or a temperature", "name it in a header, for instance temp_c; it was left out");
                continue;
            }

            if (IsNearSum(role))
            {
                role.Why = "about the sum of the cells, and as slow as a temperature; left out";
                log.Columns.Notice("voltage-or-temperature", 0, role, "a column that could be the pack voltage or a temperature", "name it in a header, for instance temp_c; it was left out");
                continue;
            }

            if (charge is null ? integrals.RunsAlong(current, role) : CounterFit.CountsAlike(charge, role))
            {
                role.Why = "a counter or a temperature: it changes slowly, and as the current would make it; left out";
                log.Columns.Notice("counter-or-temperature", 0, role, "a column that could be a charge counter or a temperature", "name it in a header, for instance temp_c; it was left out");
                continue;
            }

            role.Take(ColumnMeaning.Temperature, Unit.Celsius, ++sensor, string.Create(
                CultureInfo.InvariantCulture, $"values of {role.Profile!.Min:0.#} to {role.Profile.Max:0.#} that change slowly, as a temperature in °C does; nothing else is left that it could be"));
            log.Columns.Notice("temperature-by-content", 0, role, "a column without a telling header that was taken for a temperature in °C", "if it is none, leave it out with a reading guide");
        }
    }

    private bool IsNearSum(ColumnRole role)
    {
        double volts = log.Columns.Cells.Sum(v => (v.Profile!.Min + v.Profile.Max) / 2 * v.Factor);
        return log.Columns.Cells.Count > 0 && log.Columns.Single(ColumnMeaning.PackVoltage) is null && Math.Abs((role.Profile!.Min + role.Profile.Max) / 2 / volts - 1) < 0.03;
    }

    // A share of charge goes one way as long as the current does, by hardly more than its last digit off the integral, and stands still without current.
    // A temperature of tenths that warms evenly does that too for a degree or two; one of whole degrees cannot be told from it at all.
    private bool MayBeShare(ColumnRole current, ColumnRole role)
    {
        NumberProfile profile = role.Profile!;
        Flow flow = log.Measure(current, role);
        if (flow.CountedIntegral <= 0 || flow.CounterPath <= 0 || Math.Abs(flow.CounterBySign) < 0.999 * flow.CounterPath)
        {
            return false;
        }

        double digit = Math.Pow(10, -role.Column.MaxDecimals);
        double went = profile.Max - profile.Min;
        return (role.Column.MaxDecimals == 0 || went >= 3)
            && log.Stray(current, role, flow.CounterBySign / flow.CountedIntegral) <= (1.6 * digit) + (0.01 * went);
    }
}
