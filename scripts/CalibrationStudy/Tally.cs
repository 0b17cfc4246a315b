using System.Globalization;
using System.Text;

namespace PackCare.CalibrationStudy;

/// <summary>Adds trials up.</summary>
internal sealed class Tally
{
    private readonly List<Comparison> _comparisons = [];
    private readonly List<Verdict> _verdicts = [];

    /// <summary>Adds one.</summary>
    public void Add(Trial trial)
    {
        _comparisons.AddRange(trial.Comparisons);
        _verdicts.AddRange(trial.Verdicts);
    }

    /// <summary>Two tables: intervals, and findings.</summary>
    public string Markdown()
    {
        var text = new StringBuilder();
        text.Append("| estimate | count | none given | 95 % intervals that hold the truth | mean error (%) | typical error (%) |\n|---|---|---|---|---|---|\n");
        foreach (var group in _comparisons.GroupBy(one => one.Quantity).OrderBy(group => group.Key, StringComparer.Ordinal))
        {
            var given = group.Where(one => one.Estimate is not null).ToArray();
            var errors = given.Select(one => 100 * (one.Estimate!.Value - one.Truth) / one.Truth).ToArray();
            text.Append(CultureInfo.InvariantCulture, $"| {group.Key} | {group.Count()} | {group.Count() - given.Length} ");
            text.Append(CultureInfo.InvariantCulture, $"| {Percent(given.Count(one => one.Covers), given.Length)} | {Mean(errors):F2} | {Math.Sqrt(Mean([.. errors.Select(error => error * error)])):F2} |\n");
        }

        text.Append("\n| finding | due | of these found | not due | of these found all the same |\n|---|---|---|---|---|\n");
        foreach (var group in _verdicts.GroupBy(one => one.Code).OrderBy(group => group.Key, StringComparer.Ordinal))
        {
            var due = group.Where(one => one.Due == true).ToArray();
            var not = group.Where(one => one.Due == false).ToArray();
            if (due.Length + not.Count(one => one.Found) > 0)
            {
                text.Append(CultureInfo.InvariantCulture, $"| {group.Key} | {due.Length} | {Percent(due.Count(one => one.Found), due.Length)} | {not.Length} | {Percent(not.Count(one => one.Found), not.Length)} |\n");
            }
        }

        return text.ToString();
    }

    private static double Mean(double[] values) => values.Length == 0 ? double.NaN : values.Average();

    private static string Percent(int part, int whole) =>
        whole == 0 ? "-" : string.Create(CultureInfo.InvariantCulture, $"{100.0 * part / whole:F1} %");
}
