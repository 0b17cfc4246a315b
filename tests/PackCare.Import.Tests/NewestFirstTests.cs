using PackCare.Core.Reading;

namespace PackCare.Import.Tests;

/// <summary>Dated logs whose newest row stands first are turned round; what only steps back somewhere is not. All data is invented.</summary>
public class NewestFirstTests
{
    private const int Rows = 60;

    [Theory]
    [InlineData("date and time", "yyyy-MM-dd HH:mm:ss")]
    [InlineData("date;time", "dd.MM.yyyy;HH:mm:ss")]
    [InlineData("stamp", "yyyy-MM-ddTHH:mm:ss+02:00")]
    public void They_are_read_as_the_same_log_the_other_way_round(string header, string form)
    {
        string[] rows = Lines(form);

        ReadResult oldest = Logs.ReadText(Log(header, rows));
        ReadResult newest = Logs.ReadText(Log(header, [.. rows.Reverse()]));

        Assert.False(newest.Refused, string.Join('\n', newest.Problems));
        Assert.Equal(Values(oldest), Values(newest));
        Assert.Equal(Assert.Single(oldest.Sessions).Started, Assert.Single(newest.Sessions).Started);
        Assert.Contains(newest.Reading!.Reasons, reason => reason.Contains("newest first", StringComparison.Ordinal));
    }

    [Fact]
    public void So_are_seconds_since_1970()
    {
        string[] rows = [.. Lines("yyyy-MM-dd HH:mm:ss").Select((row, i) => $"{1_774_000_000 + (i * 20)}{row[row.IndexOf(';', StringComparison.Ordinal)..]}")];

        ReadResult newest = Logs.ReadText(Log("unix_time", [.. rows.Reverse()]));

        Assert.False(newest.Refused, string.Join('\n', newest.Problems));
        Assert.Equal(Values(Logs.ReadText(Log("unix_time", rows))), Values(newest));
    }

    // What counts down may be a countdown as well.
    [Fact]
    public void Elapsed_times_that_count_down_are_refused()
    {
        string[] rows = [.. Lines("yyyy-MM-dd HH:mm:ss").Select((row, i) => $"{i * 20}{row[row.IndexOf(';', StringComparison.Ordinal)..]}")];

        Assert.True(Logs.ReadText(Log("time_s", [.. rows.Reverse()])).Refused);
    }

    [Fact]
    public void Damage_is_named_by_its_line_in_the_file()
    {
        string[] rows = [.. Lines("yyyy-MM-dd HH:mm:ss").Reverse()];
        rows[10] = rows[10].Replace(";3.", ";3,", StringComparison.Ordinal);

        InputProblem refusal = Assert.Single(Logs.ReadText(Log("date and time", rows)).Problems, problem => problem.Level == ProblemLevel.Refusal);
        Assert.Equal(12, refusal.Line);
    }

    [Theory]
    [InlineData(20, 21)]
    [InlineData(1, 40)]
    public void Rows_that_were_exchanged_are_refused(int one, int other)
    {
        string[] rows = [.. Lines("yyyy-MM-dd HH:mm:ss").Reverse()];
        (rows[one], rows[other]) = (rows[other], rows[one]);

        ReadResult result = Logs.ReadText(Log("date and time", rows));

        Assert.Contains(result.Problems, problem => problem is { Level: ProblemLevel.Refusal, Code: "time-backwards" });
    }

    [Fact]
    public void A_log_of_one_row_backwards_is_no_such_log()
    {
        string[] rows = Lines("yyyy-MM-dd HH:mm:ss");
        (rows[0], rows[1]) = (rows[1], rows[0]);

        Assert.True(Logs.ReadText(Log("date and time", rows)).Refused);
    }

    private static string[] Lines(string form)
    {
        // Over midnight.
        var started = new DateTime(2026, 3, 14, 23, 50, 0, DateTimeKind.Unspecified);
        return [.. Enumerable.Range(0, Rows).Select(row => started.AddSeconds(row * 20).ToString(form, System.Globalization.CultureInfo.InvariantCulture)
            + FormattableString.Invariant($";{3.7 + (row * 0.005):0.000};{3.71 + (row * 0.005):0.000};{(row < 2 ? 0 : 2)}.00"))];
    }

    private static string Log(string header, string[] rows) => $"{header};cell 1 [V];cell 2 [V];current [A]\n{string.Join('\n', rows)}\n";

    private static List<decimal?[]> Values(ReadResult result) => [.. result.Sessions[0].Samples.Channels.Select(channel => channel.ToDecimals().ToArray())];
}
