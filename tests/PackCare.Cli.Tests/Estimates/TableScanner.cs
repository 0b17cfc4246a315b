using System.Text.RegularExpressions;

namespace PackCare.Cli.Tests.Estimates;

/// <summary>Looks at tables on a terminal, whose units stand at the head of the columns: an estimate is to carry its interval, and a column "n" is to follow.</summary>
public static partial class TableScanner
{
    private static readonly string[] Estimated = ["capacity %", "resistance x", "offset %", "mOhm", "x first"];

    // Read, counted or entered, not estimated: the pack's name and word, the reading at rest, days by the calendar, numbers of things, plain counts.
    private static readonly string[] NotEstimated = ["pack", "standing", "mV", "full", "last", "n", "cell", "rest mV", "session", "started", "file", "Ah to first sample", "Ah to crossing"];

    /// <summary>What is amiss in the table that begins with a line holding this heading.</summary>
    public static IReadOnlyList<string> Bare(string text, string heading)
    {
        string[] lines = text.Split('\n');
        int at = Array.FindIndex(lines, line => line.StartsWith(heading, StringComparison.Ordinal));
        if (at < 0)
        {
            return [$"There is no table with the heading '{heading}'."];
        }

        Match[] heads = [.. Head().Matches(lines[at]).Cast<Match>()];
        var wrong = new List<string>(heads.Select(head => head.Value).Except([.. Estimated, .. NotEstimated]).Select(name => $"The column '{name}' is neither known as an estimate nor as a reading."));
        foreach (string line in lines.Skip(at + 1).TakeWhile(line => line.Trim().Length > 0))
        {
            for (int i = 0; i < heads.Length; i++)
            {
                if (!Estimated.Contains(heads[i].Value))
                {
                    continue;
                }

                int to = i + 1 < heads.Length ? heads[i + 1].Index : line.Length;
                string cell = heads[i].Index < line.Length ? line[heads[i].Index..Math.Min(to, line.Length)].Trim() : "";
                Match match = Tight().Match(cell);
                if (cell is not "-" and not "" && !(match.Success && TextScanner.Number(match.Groups[2].Value) <= TextScanner.Number(match.Groups[1].Value) && TextScanner.Number(match.Groups[1].Value) <= TextScanner.Number(match.Groups[3].Value)))
                {
                    wrong.Add($"'{cell}' in the column '{heads[i].Value}' has no interval: {line}");
                }

                int n = Array.FindIndex(heads, i, head => head.Value == "n");
                string count = n < 0 ? "" : heads[n].Index < line.Length ? line[heads[n].Index..].Split("  ")[0].Trim() : "";
                if (cell is not "-" and not "" && heads[i].Value != "offset %" && !int.TryParse(count, out _))
                {
                    wrong.Add($"'{cell}' in the column '{heads[i].Value}' has no count: {line}");
                }
            }
        }

        return wrong;
    }

    [GeneratedRegex(@"\S+(?: \S+)*")]
    private static partial Regex Head();

    [GeneratedRegex(@"^(-?\d+(?:\.\d+)?) \((-?\d+(?:\.\d+)?)\.\.(-?\d+(?:\.\d+)?)\)$")]
    private static partial Regex Tight();
}
