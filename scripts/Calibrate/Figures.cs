using System.Globalization;
using System.Text;
using PackCare.Core.Estimates;

namespace PackCare.Calibrate;

/// <summary>Adds up estimates beside truths, and writes tables.</summary>
internal static class Figures
{
    /// <summary>A row: how many, bias, root mean square error, coverage of the 95 % interval.</summary>
    public static string Row(string name, IEnumerable<(Estimate? Estimate, double Truth)> pairs, string goal)
    {
        var all = pairs.ToList();
        var given = all.Where(pair => pair.Estimate is not null).ToList();
        if (given.Count == 0)
        {
            return string.Create(CultureInfo.InvariantCulture, $"| {name} | 0 of {all.Count} | - | - | - | - | {goal} |\n");
        }

        double[] errors = [.. given.Select(pair => 100 * (pair.Estimate!.Value - pair.Truth) / pair.Truth)];
        double covered = 100.0 * given.Count(pair => pair.Estimate!.Low <= pair.Truth && pair.Truth <= pair.Estimate.High) / given.Count;
        double width = given.Average(pair => 50 * (pair.Estimate!.High - pair.Estimate.Low) / pair.Truth);
        return string.Create(CultureInfo.InvariantCulture, $"| {name} | {given.Count} of {all.Count} | {errors.Average():+0.00;-0.00;0.00} | {Math.Sqrt(errors.Average(error => error * error)):0.00} | {width:0.00} | {covered:0.0} | {goal} |\n");
    }

    /// <summary>The head of such a table.</summary>
    public static string Head() => "| figure | given | bias (%) | RMS error (%) | half width (%) | held by 95 % interval (%) | goal |\n|---|---|---|---|---|---|---|\n";

    /// <summary>Part of a whole in percent with the 95 % interval of Wilson (1927, J. Am. Stat. Assoc. 22, 209-212).</summary>
    public static string Share(int part, int whole)
    {
        if (whole == 0)
        {
            return "-";
        }

        const double Z = 1.959964;
        double p = (double)part / whole;
        double middle = (p + (Z * Z / (2 * whole))) / (1 + (Z * Z / whole));
        double half = Z / (1 + (Z * Z / whole)) * Math.Sqrt((p * (1 - p) / whole) + (Z * Z / (4.0 * whole * whole)));
        return string.Create(CultureInfo.InvariantCulture, $"{100 * p:0.0} ({100 * Math.Max(0, middle - half):0.0} to {100 * Math.Min(1, middle + half):0.0}) % of {whole}");
    }

    /// <summary>Joins the lines of a section.</summary>
    public static string Section(string title, string about, params IEnumerable<string> lines)
    {
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"## {title}\n\n{about}\n\n");
        foreach (string line in lines)
        {
            text.Append(line);
        }

        return text.ToString();
    }
}
