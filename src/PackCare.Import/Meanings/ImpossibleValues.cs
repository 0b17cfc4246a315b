using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Refuses values that nothing can have measured.</summary>
internal static class ImpossibleValues
{
    private const double MostAmperes = 1000;

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
}
