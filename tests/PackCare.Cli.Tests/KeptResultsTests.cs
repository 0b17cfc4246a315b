using System.Globalization;
using PackCare.Analysis.Digests;
using PackCare.Cli.Tests.Running;

namespace PackCare.Cli.Tests;

/// <summary>What <c>due</c> and <c>list</c> keep in the history never shows: with it and without it they print the same bytes.</summary>
public sealed class KeptResultsTests : IDisposable
{
    private const int SealAndTab = 17;

    private readonly DemoFixture _demo;
    private readonly Bench _bench = new();
    private readonly string _bare;
    private int _used;
    private int _round;

    public KeptResultsTests(DemoFixture demo)
    {
        _demo = demo;
        _bare = Path.Combine(_bench.Folder, "bare.db");
        File.Copy(demo.History, _bench.History);
    }

    public void Dispose() => _bench.Dispose();

    [Fact]
    public void At_later_moments_and_around_those_at_which_a_finding_changes()
    {
        DateTimeOffset now = DateTimeOffset.Parse(_demo.Now, CultureInfo.InvariantCulture);
        Compare(now);
        DateTimeOffset[] turns = [.. Kept().Select(one => one.Until).Where(until => until < now.AddYears(1)).Distinct().Order()];
        Assert.NotEmpty(turns);
        foreach (DateTimeOffset turn in turns.Take(3))
        {
            Compare(turn.AddTicks(-1));
            Compare(turn);
        }

        foreach (int days in new[] { 1, 40, 400 })
        {
            Compare(now.AddDays(days).AddMinutes(7));
        }

        // A look back, and today once more.
        Compare(now.AddDays(-90));
        Compare(now);
        Assert.True(_used > 20, $"kept results were used {_used} times only");
    }

    [Fact]
    public void With_changes_in_between()
    {
        DateTimeOffset now = DateTimeOffset.Parse(_demo.Now, CultureInfo.InvariantCulture);
        Compare(now);
        string label = _demo.Labels[0];
        string limits = Path.Combine(_bench.Folder, "limits.json");
        foreach (Action change in new Action[]
        {
            () => File.WriteAllText(limits, """{ "limits": { "rest-spread-watch-mV": 3, "check-overdue-days": 2 } }"""),
            () => File.WriteAllText(limits, """{ "packs": { "LABEL": { "rest-spread-watch-mV": 2 } } }""".Replace("LABEL", label, StringComparison.Ordinal)),
            () => File.Delete(limits),
            () => Change("log", label, "inspection", "--swollen"),
            () => Change("undo"),
            () => Change("undo", "--redo"),
            () => Change("undo"),
            () => Change("retire", label, "--reason", "lost"),
            () => Change("add", "Newcomer", "--cells", "3"),
            () => Change("import", _bench.Write("newcomer_2026-10-01T1000.csv", PlainLog.Charge(3, seed: 1))),
            () => Change("undo"),
            () => Change("check", "Newcomer", "4.19", "4.19", "4.11"),
            () => Change("recompute"),
        })
        {
            change();
            Compare(now);
        }

        Assert.True(_used > 20, $"kept results were used {_used} times only");

        void Change(params string[] arguments) => PackCareProcess.Run(_bench.Folder, null, [.. arguments, "--history", _bench.History, "--now", _demo.Now]).Expect(0);
    }

    private void Compare(DateTimeOffset now)
    {
        // Half of them each time, since a run takes a while.
        string[][] commands = ++_round % 2 == 0 ? [["due", "--json"], ["list"]] : [["due"], ["list", "--all", "--json"]];
        foreach (string[] command in commands)
        {
            File.Copy(_bench.History, _bare, overwrite: true);
            SqliteRows.Read(_bare, "delete from digest returning name");
            _used += Kept().Count(one => one.HoldsAt(now));
            Assert.Equal(Run(_bare, now, command), Run(_bench.History, now, command));
        }
    }

    private string Run(string history, DateTimeOffset now, string[] command)
    {
        string moment = now.ToString("yyyy-MM-dd'T'HH:mm:ss.fffffffzzz", CultureInfo.InvariantCulture);
        Outcome outcome = PackCareProcess.Run(_bench.Folder, null, [.. command, "--history", history, "--now", moment]).Expect(0);
        return outcome.Out + outcome.Error;
    }

    private IReadOnlyList<PackDigest> Kept() =>
        [.. SqliteRows.Read(_bench.History, "select content from digest d join pack p on p.id = d.pack_id and p.revision = d.revision").Select(content => PackDigest.Parse(content[SealAndTab..])!)];
}
