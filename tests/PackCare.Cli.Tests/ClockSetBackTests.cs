using System.Globalization;
using System.Text.RegularExpressions;
using PackCare.Cli.Hosting;
using PackCare.Cli.Tests.Running;

namespace PackCare.Cli.Tests;

/// <summary>A machine whose clock was set back judges by what it knew then, says so, shows no negative age, and loses nothing.</summary>
public sealed partial class ClockSetBackTests : IDisposable
{
    private readonly Bench _bench = new();

    public ClockSetBackTests()
    {
        Run("2026-09-30T12:00", "add", "Teal", "--cells", "3");
        Run("2026-10-01T12:00", "import", _bench.Write("teal_2026-10-01T1000.csv", PlainLog.Charge(3, seed: 3)), "--zone", "UTC");
        Run("2026-10-05T12:00", "check", "Teal", "4.19", "4.19", "4.18");
        Run("2026-10-06T12:00", "log", "Teal", "note", "--text", "left full");
    }

    public void Dispose() => _bench.Dispose();

    [Theory]
    [InlineData("2020-01-01T12:00")]
    [InlineData("2026-10-01T11:59")]
    [InlineData("2026-10-03T12:00")]
    [InlineData("2026-10-06T11:59")]
    public void Every_judgement_says_up_to_when_there_are_records(string clock)
    {
        foreach (string[] command in new string[][] { ["due"], ["list"], ["show", "Teal"], ["why", "Teal"], ["due", "--json"], ["list", "--json"], ["show", "Teal", "--json"] })
        {
            (string output, string error) = Run(clock, command);
            Assert.Equal(
                $"packcare: note: by this machine's clock it is {clock.Replace('T', ' ')}, and there are records up to 2026-10-06 12:00; they are kept, but nothing after the clock's time is judged; check the clock, or the dates of those records.",
                error.TrimEnd());
            Assert.DoesNotMatch(NegativeAge(), output);
        }
    }

    [Fact]
    public void An_import_after_the_clock_is_told_by_its_own_time()
    {
        _bench.Write("teal_2026-10-02T1000.csv", PlainLog.Charge(3, seed: 4));
        Run("2026-12-01T12:00", "import", Path.Combine(_bench.Folder, "teal_2026-10-02T1000.csv"), "--zone", "UTC");

        Assert.Contains("records up to 2026-12-01 12:00;", Run("2026-11-01T12:00", "due").Error, StringComparison.Ordinal);
        Assert.Empty(Run("2026-11-01T12:00", "show", "Teal").Error);
        Assert.Empty(Run("2026-12-01T12:00", "due").Error);
    }

    [Fact]
    public void Once_the_clock_is_right_again_everything_is_as_before_and_nothing_is_said()
    {
        string before = Run("2026-11-01T12:00", "due", "--json").Output + Run("2026-11-01T12:00", "show", "Teal", "--json").Output;
        foreach (string command in new[] { "due", "list" })
        {
            Run("2020-01-01T12:00", command);
        }

        Assert.Equal(before, Run("2026-11-01T12:00", "due", "--json").Output + Run("2026-11-01T12:00", "show", "Teal", "--json").Output);
        Assert.Empty(Run("2026-11-01T12:00", "due").Error);
    }

    [GeneratedRegex(@"-\d+(\.\d+)? ?(d|day|h|min)\b|[Dd]ays?\W+-\d")]
    private static partial Regex NegativeAge();

    private (string Output, string Error) Run(string clock, params string[] arguments)
    {
        using var output = new StringWriter(CultureInfo.InvariantCulture);
        using var error = new StringWriter(CultureInfo.InvariantCulture);
        var host = new Host(output, error, new UtcClock(DateTimeOffset.Parse(clock + "Z", CultureInfo.InvariantCulture)), _ => null, outputIsTerminal: false, errorIsTerminal: false);
        int exitCode = App.Run([.. arguments, "--history", _bench.History], host);
        Assert.True(exitCode == 0, output.ToString() + error);
        return (output.ToString(), error.ToString());
    }

    // A machine at UTC, so that what it prints is the same wherever the tests run.
    private sealed class UtcClock(DateTimeOffset now) : TimeProvider
    {
        public override TimeZoneInfo LocalTimeZone => TimeZoneInfo.Utc;

        public override DateTimeOffset GetUtcNow() => now;
    }
}
