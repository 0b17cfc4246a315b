using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Core.Sessions;

namespace PackCare.Import.Tests;

/// <summary>
/// Every file under Files with the outcome that the <c>expected.tsv</c> of its folder names: R read right to the last digit, X refused
/// with nothing kept, E either of the two. The true values stand in the <c>.truth</c> files.
/// </summary>
public class LogFileTests
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "Files");

    public static TheoryData<string> Names => [.. Rows().Select(row => row[0])];

    [Theory]
    [MemberData(nameof(Names))]
    public void Each_file_is_read_right_or_refused_as_the_table_says(string name)
    {
        string[] row = Rows().Single(r => r[0] == name);
        (string outcome, string line, string code, string sessions, string more) = (row[1], row[2], row[3], row[4], row[5]);
        ReadResult result = Logs.ReadFile(Path.Combine(Folder, name), more.Contains("allow-truncated", StringComparison.Ordinal));

        Assert.True(result.Ledger.Balances, $"the ledger does not balance: {result.Ledger}");
        string told = string.Join("\n", result.Problems);
        if (outcome == "X" || (outcome == "E" && result.Refused))
        {
            Assert.True(result.Refused, "it was read, and must not be");
            Assert.Empty(result.Sessions);
            Assert.Equal(0, result.Ledger.Samples);
            InputProblem refusal = result.Problems.First(problem => problem.Level == ProblemLevel.Refusal);
            if (line.Length > 0)
            {
                Assert.Equal(line, refusal.Line?.ToString(CultureInfo.InvariantCulture));
            }

            if (code.Length > 0)
            {
                Assert.Equal(code, refusal.Code);
            }

            return;
        }

        Assert.False(result.Refused, told);
        string[] truths = sessions.Split(',');
        Assert.Equal(truths.Length, result.Sessions.Count);
        for (int s = 0; s < truths.Length; s++)
        {
            Logs.AssertEqual(Path.Combine(Folder, Path.GetDirectoryName(name)!, truths[s] + ".truth"), result.Sessions[s].Samples);
        }

        Assert.Equal(result.Ledger.Samples, Logs.RowsThatBecameSamples(result));
        foreach (string claim in more.Split(';', StringSplitOptions.RemoveEmptyEntries))
        {
            Check(claim, result);
        }
    }

    [Fact]
    public void The_table_names_every_file_and_no_other()
    {
        string[] files = [.. Directory.GetFiles(Folder, "*.csv", SearchOption.AllDirectories).Select(path => Path.GetRelativePath(Folder, path)).Order(StringComparer.Ordinal)];
        Assert.Equal(files, Rows().Select(row => row[0]).Order(StringComparer.Ordinal));
    }

    private static void Check(string claim, ReadResult result)
    {
        string[] parts = claim.Split('=', 2);
        SessionLog session = result.Sessions[0];
        switch (parts[0])
        {
            case "started":
                Assert.Equal(DateTimeOffset.Parse(parts[1], CultureInfo.InvariantCulture).UtcDateTime, session.Started.UtcDateTime);
                break;
            case "quality":
                Assert.Equal(Enum.Parse<TimeQuality>(parts[1]), session.TimeQuality);
                break;
            case "pack":
                Assert.Equal(parts[1], session.PackHint);
                break;
            case "packs":
                Assert.Equal(parts[1].Split(','), result.Sessions.Select(s => s.PackHint));
                break;
            case "comments":
                Assert.Equal(parts[1], result.Ledger.Comments.ToString(CultureInfo.InvariantCulture));
                break;
            case "footer":
                Assert.Equal(parts[1], result.Ledger.Footer.ToString(CultureInfo.InvariantCulture));
                Assert.Equal(parts[1], result.Problems.Count(p => p.Code == "footer").ToString(CultureInfo.InvariantCulture));
                break;
            case "dropped":
                Assert.Equal(parts[1], result.Ledger.Dropped.ToString(CultureInfo.InvariantCulture));
                break;
            case "lastline":
                Assert.Equal(parts[1], session.LastLine.ToString(CultureInfo.InvariantCulture));
                break;
            case "notice":
                Assert.Contains(result.Problems, p => p.Code == parts[1] && p.Level == ProblemLevel.Notice);
                break;
            case "allow-truncated":
                break;
            default:
                Assert.Fail($"the table makes a claim that nothing checks: {claim}");
                break;
        }
    }

    private static List<string[]> Rows() => _rows ??=
        [.. Directory.GetFiles(Folder, "expected.tsv", SearchOption.AllDirectories).Order(StringComparer.Ordinal).SelectMany(RowsOf)];

    private static List<string[]>? _rows;

    private static IEnumerable<string[]> RowsOf(string table)
    {
        string folder = Path.GetRelativePath(Folder, Path.GetDirectoryName(table)!);
        return File.ReadAllLines(table).Skip(1).Where(line => line.Length > 0).Select(line => line.Split('\t'))
            .Select(row => folder == "." ? row : [Path.Combine(folder, row[0]), .. row[1..]]);
    }
}
