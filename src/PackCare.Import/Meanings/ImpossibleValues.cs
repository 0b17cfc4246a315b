using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Refuses values that nothing can have measured.</summary>
internal static class ImpossibleValues
{
    private const double MostAmperes = 1000;
    private const double MostAmpereHours = 2000;

    private static readonly double[] CounterSentinels = [2_147_483_647, -2_147_483_648, 4_294_967_295];

    private static readonly double[] Sentinels = [65_535, 32_767, -32_768, 2_147_483_647, -2_147_483_648, 4_294_967_295, 99_999, -99_999, -9999];

    /// <summary>Refuses what is beyond every sensor.</summary>
    internal static void CheckRanges(LogColumns columns)
    {
        var found = new List<InputProblem>();
        foreach (ColumnRole role in columns.Roles.Where(role => role.Profile is { Count: > 0 }))
        {
            (double low, double high, string what) = role.Meaning switch
            {
                ColumnMeaning.CellVoltage => (0, VoltageFinder.HighestCell, "a cell voltage"),
                ColumnMeaning.Current => (-MostAmperes, MostAmperes, "a current"),
                ColumnMeaning.PackVoltage => (double.NegativeInfinity, VoltageFinder.HighestCell * (columns.Cells.Count == 0 ? VoltageFinder.MostCells : columns.Cells.Count), "the voltage of such a pack"),
                ColumnMeaning.Charge or ColumnMeaning.ChargeIn or ColumnMeaning.ChargeOut => (-MostAmpereHours, MostAmpereHours, "the charge of a pack"),
                ColumnMeaning.Temperature => (-60.0, 200.0, "a temperature"),
                _ => (double.NegativeInfinity, double.PositiveInfinity, ""),
            };
            if (what.Length == 0 || (role.Unit == Unit.None && role.Meaning is ColumnMeaning.Charge or ColumnMeaning.ChargeIn or ColumnMeaning.ChargeOut))
            {
                continue;
            }

            Func<double, double> convert = role.Meaning == ColumnMeaning.Temperature ? value => OtherFinder.ToCelsius(value, role.Unit) : value => value * role.Factor;
            if (convert(role.Profile!.Min) < low || convert(role.Profile.Max) > high)
            {
                int? row = LogColumns.FirstRow(role, 1, value => convert(value) < low || convert(value) > high);
                double value = convert(role.Profile.Max) > high ? convert(role.Profile.Max) : convert(role.Profile.Min);
                string unit = role.Meaning switch
                {
                    ColumnMeaning.Current => "A",
                    ColumnMeaning.Temperature => "°C",
                    ColumnMeaning.CellVoltage or ColumnMeaning.PackVoltage => "V",
                    _ => "Ah",
                };
                found.Add(Refusals.Refuse(
                    "impossible-value", row is int r ? columns.Table.LineOf(r) : null, role.Column.Index + 1,
                    string.Create(CultureInfo.InvariantCulture, $"a value that {what} cannot have: up to {value:0.###} {unit} in this column, and {(value > high ? high : low):0.#} {unit} is the most that is taken"), "correct or remove that line, or the unit in the header"));
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
            foreach (double extreme in (double[])[role.Profile!.Min, role.Profile.Max])
            {
                if (((counts ? CounterSentinels : Sentinels).Contains(extreme) && StandsAlone(role, extreme, 0.95)) || (!counts && AreNines(role, extreme) && StandsAlone(role, extreme, 0.2) && !IsUsual(role, extreme)))
                {
                    found.Add(Sentinel(columns, role, extreme));
                }
            }
        }

        // A counter or a current that is full of ones, whatever decimals are written: where nothing comes near it.
        foreach (ColumnRole role in columns.Roles.Where(role => role is { Meaning: ColumnMeaning.Charge or ColumnMeaning.ChargeIn or ColumnMeaning.ChargeOut or ColumnMeaning.Energy or ColumnMeaning.Current, Profile: { Count: > 0, IsConstant: false } }))
        {
            double most = role.Profile!.LargestMagnitude * (role.Profile.Max >= -role.Profile.Min ? 1 : -1);
            if (Math.Round(Math.Abs(most) * Math.Pow(10, role.Column.MaxDecimals)) is 65_535 or 32_767 or 32_768 && StandsAlone(role, most, 0.5))
            {
                found.Add(Sentinel(columns, role, most));
            }
        }

        if (found.Count > 0)
        {
            columns.Problems.Add(found.OrderBy(problem => problem.Line).First());
        }
    }

    // What most rows hold was measured, or set.
    private static bool IsUsual(ColumnRole role, double value) =>
        LogColumns.Values(role, 0, 1) is var values && values.Count(one => one == value) * 2 > values.Length;

    // 999.9, -9999.99, 999999: a number only where others come near it.
    private static bool AreNines(ColumnRole role, double value)
    {
        const double LeastNines = 999;
        const double MostNines = 1e15;
        double digits = Math.Round(Math.Abs(value) * Math.Pow(10, role.Column.MaxDecimals));
        return Math.Abs(value) is >= LeastNines and < MostNines && digits < MostNines && digits.ToString("F0", CultureInfo.InvariantCulture).TrimEnd('0').All(digit => digit == '9');
    }

    private static InputProblem Sentinel(LogColumns columns, ColumnRole role, double sentinel)
    {
        int? row = LogColumns.FirstRow(role, 1, value => value == sentinel);
        return Refusals.Refuse("sentinel", row is int r ? columns.Table.LineOf(r) : null, role.Column.Index + 1, string.Create(CultureInfo.InvariantCulture, $"{sentinel:0.######}, which devices write when they have no reading"), "clear that value, or remove that line");
    }

    // A pack of eight cells passes through 32767 mV on its way: what a device writes for no reading is nowhere near the readings.
    private static bool StandsAlone(ColumnRole role, double sentinel, double share) =>
        LogColumns.FirstRow(role, 1, value => value != sentinel && value * Math.Sign(sentinel) > share * Math.Abs(sentinel)) is null;
}
