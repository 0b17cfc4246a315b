using System.Globalization;
using System.Text;
using PackCare.Core.Reading;

namespace PackCare.Import.Tests;

/// <summary>
/// Notes with line breaks within quotes, as RFC 4180 (section 2, rules 5 to 7) allows them, against quotes that nobody closed: these swallow rows.
/// All data is invented.
/// </summary>
public class NoteLinesTests
{
    private const int Rows = 40;

    public static TheoryData<string, string> Written => new()
    {
        { ";", "\n" },
        { ";", "\r\n" },
        { ",", "\r" },
        { "\t", "\n" },
        { "|", "\r\n" },
    };

    [Theory]
    [MemberData(nameof(Written))]
    public void A_note_of_several_lines_is_read_over(string delimiter, string lineEnd)
    {
        string note = $"\"fan on{lineEnd}{lineEnd}then \"\"off\"\"{delimiter} 3 of 4\"";
        foreach (int place in (int[])[0, 2, 4])
        {
            ReadResult plain = Logs.ReadText(Log(delimiter, lineEnd, place, new() { [3] = "x", [20] = "x", [39] = "x" }));
            ReadResult result = Logs.ReadText(Log(delimiter, lineEnd, place, new() { [3] = note, [20] = note, [39] = note }));

            Assert.False(result.Refused, string.Join('\n', result.Problems));
            Assert.Equal(Numbers(plain), Numbers(result));
            Assert.Equal(Rows, result.Ledger.Samples);
            Assert.Equal(result.Ledger.Lines, Sum(result.Ledger));
            Assert.Equal(Rows + 1 + (3 * 2), result.Ledger.Lines);
        }
    }

    [Fact]
    public void A_row_behind_such_a_note_is_named_by_its_own_line()
    {
        ReadResult result = Logs.ReadText(Log(";", "\n", 4, new() { [3] = "\"a\nb\nc\"", [10] = "x;y" }));

        InputProblem refusal = Assert.Single(result.Problems, problem => problem.Level == ProblemLevel.Refusal);
        Assert.Equal(("field-count", 2 + 10 + 2), (refusal.Code, refusal.Line));
    }

    [Theory]
    [InlineData("\"fan on", null, 5)]
    [InlineData("\"fan on", "\"fan off", 5)]
    [InlineData("\"fan on", "fan off\"", 5)]
    [InlineData("\"fan on", "\"fan off\"", 5)]
    [InlineData("\"fan on", "\"\"", 5)]
    public void A_quote_that_swallows_rows_is_refused_at_its_line(string opened, string? later, int line)
    {
        foreach (int next in (int[])[4, 5, 30])
        {
            var notes = new Dictionary<int, string> { [3] = opened };
            if (later is not null)
            {
                notes[next] = later;
            }

            ReadResult result = Logs.ReadText(Log(";", "\n", 4, notes));

            InputProblem refusal = Assert.Single(result.Problems, problem => problem.Level == ProblemLevel.Refusal);
            Assert.Equal(("open-quote", line), (refusal.Code, refusal.Line));
        }
    }

    [Theory]
    [InlineData("utf-8", 9000)]
    [InlineData("utf-16", 2000)]
    public void A_long_log_with_many_of_them_is_read(string encoding, int rows)
    {
        Dictionary<int, string> notes = Enumerable.Range(0, rows / 7).ToDictionary(i => i * 7, i => $"\"load {i}\nas before\"");
        byte[] bytes = [.. Encoding.GetEncoding(encoding).GetPreamble(), .. Encoding.GetEncoding(encoding).GetBytes(Log(",", "\n", 4, notes, rows))];

        ReadResult result = Logs.ReadBytes(bytes);

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.Equal(rows, result.Sessions.Sum(session => session.Samples.Count));
    }

    private static int Sum(Ledger ledger) => ledger.Header + ledger.Units + ledger.Samples + ledger.Comments + ledger.Footer + ledger.Blank + ledger.Dropped;

    private static List<decimal?[]> Numbers(ReadResult result) => [.. Assert.Single(result.Sessions).Samples.Channels.Select(channel => channel.ToDecimals().ToArray())];

    private static string Log(string delimiter, string lineEnd, int place, Dictionary<int, string> notes, int rows = Rows)
    {
        var text = new StringBuilder(Row(["time_s", "cell1_v", "cell2_v", "current_a"], "note"));
        for (int row = 0; row < rows; row++)
        {
            string[] fields = [Text($"{row * 10}"), Text($"{3.7 + (0.4 * row / rows):0.000}"), Text($"{3.71 + (0.4 * row / rows):0.000}"), "0.5"];
            text.Append(Row(fields, notes.GetValueOrDefault(row, "")));
        }

        return text.ToString();

        string Row(string[] fields, string note) => string.Join(delimiter, (string[])[.. fields[..place], note, .. fields[place..]]) + lineEnd;
        static string Text(FormattableString value) => value.ToString(CultureInfo.InvariantCulture);
    }
}
