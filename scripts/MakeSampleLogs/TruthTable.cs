using System.Globalization;
using System.Text;

namespace PackCare.SampleLogs;

/// <summary>The true figures behind the set, which no estimator sees.</summary>
internal static class TruthTable
{
    /// <summary>One row a pack, as it is at the demonstration's moment.</summary>
    /// <param name="set">The set.</param>
    public static string Markdown(SampleSet set)
    {
        var table = new StringBuilder();
        table.Append("| pack | true capacity, smallest cell (% of rated) | R0 + R1 at 25 °C, now over new, by cell | leads (mΩ) | cycles | state of charge by cell (%) |\n");
        table.Append("|---|---|---|---|---|---|\n");
        foreach (var life in set.Lives)
        {
            var pack = life.Pack;
            var cells = Enumerable.Range(0, pack.CellCount).Select(pack.Truth).ToArray();
            var growth = cells.Select((cell, i) => (cell.OhmicOhms + cell.SlowOhms) / (pack.Model.Cells[i].OhmicOhms + pack.Model.Cells[i].SlowOhms));
            table.Append(CultureInfo.InvariantCulture, $"| {life.Details.Label} | {cells.Min(cell => cell.CapacityAh):F2} Ah ({100 * cells.Min(cell => cell.CapacityAh) / pack.Model.RatedAh:F0} %) ");
            table.Append(CultureInfo.InvariantCulture, $"| {string.Join(", ", growth.Select(value => value.ToString("F2", CultureInfo.InvariantCulture)))} ");
            table.Append(CultureInfo.InvariantCulture, $"| {pack.LeadOhms * 1000:F1} | {pack.Cycles:F1} ");
            table.Append(CultureInfo.InvariantCulture, $"| {string.Join(", ", cells.Select(cell => (100 * cell.StateOfCharge).ToString("F1", CultureInfo.InvariantCulture)))} |\n");
        }

        return table.ToString();
    }
}
