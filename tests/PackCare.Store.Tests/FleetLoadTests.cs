using System.Diagnostics;
using System.Globalization;
using PackCare.Core.Packs;
using PackCare.Core.Sessions;

namespace PackCare.Store.Tests;

/// <summary>
/// A fleet of invented packs, large enough to show what grows. Takes minutes and gigabytes, so it runs only with
/// PACKCARE_LOAD set to a folder; the history is kept there and used again.
/// </summary>
public sealed class FleetLoadTests
{
    private const int Packs = 2000;
    private const int SessionsPerPack = 300;
    private const int Cells = 4;

    private readonly ITestOutputHelper _output;

    public FleetLoadTests(ITestOutputHelper output) => _output = output;

    [Fact]
    public void A_large_fleet_is_read_and_added_to_in_the_times_that_are_printed()
    {
        string? folder = Environment.GetEnvironmentVariable("PACKCARE_LOAD");
        Assert.SkipWhen(string.IsNullOrEmpty(folder), "PACKCARE_LOAD is not set.");
        string path = Path.Combine(folder, $"fleet-{Packs}x{SessionsPerPack}.db");
        if (!File.Exists(path))
        {
            Measure("making it", () => Generate(path));
        }

        Print($"{path}: {new FileInfo(path).Length / 1e6:0} MB");
        for (int round = 0; round < 3; round++)
        {
            using var history = Measure("open", () => History.Open(path, create: false));
            IReadOnlyList<Pack> packs = Measure("Packs", history.Packs);
            Pack pack = Measure("FindPack", () => history.FindPack("Pack 1234"))!;
            PackHistory one = Measure("Load of one pack", () => history.Load(pack));
            Assert.Equal(SessionsPerPack, one.Sessions.Count);
            Assert.Equal(Packs, packs.Count);
            Measure("LoadSamples", () => history.LoadSamples(one.Sessions[7].Id));
            Measure("FindFile", () => history.FindFile(Make.Sha("never")));
            Measure("AddFile", () => history.AddFile(Make.File($"added {Guid.NewGuid()}"), [new NewSession(null, Make.Log(cells: Cells), Make.Summary(Cells))]));
        }

        string small = Path.Combine(folder, "small.db");
        File.Delete(small);
        using (History history = Make.NewHistory(small))
        {
            for (int round = 0; round < 5; round++)
            {
                Measure("AddFile to a small history", () => history.AddFile(Make.File($"added {round}"), [new NewSession(null, Make.Log(cells: Cells), Make.Summary(Cells))]));
            }
        }

        using (History history = History.Open(path, create: false))
        {
            IReadOnlyList<PackHistory> all = Measure("LoadAll", history.LoadAll);
            Assert.Equal(Packs, all.Count);
            Print($"memory after LoadAll {GC.GetTotalMemory(forceFullCollection: true) / 1e6:0} MB");
            GC.KeepAlive(all);
        }
    }

    private static void Generate(string path)
    {
        using History history = Make.NewHistory(path);
        long[] packs = [.. Enumerable.Range(1, Packs).Select(i => history.AddPack(Make.BareDetails($"Pack {i:0000}"), Make.Morning)!.Id)];
        SessionLog log = Make.Log(cells: Cells);
        SessionSummary summary = Make.Summary(Cells);

        // A file a day with one session of every pack, so that the sessions of a pack lie far apart, as in life.
        for (int day = 0; day < SessionsPerPack; day++)
        {
            DateTimeOffset started = Make.Morning.AddDays(day);
            history.AddFile(
                Make.File($"day {day}"),
                [.. packs.Select((pack, i) => new NewSession(pack, log with { Started = started.AddSeconds(i) }, summary))]);
        }
    }

    private T Measure<T>(string what, Func<T> work)
    {
        var watch = Stopwatch.StartNew();
        T result = work();
        Print(string.Create(CultureInfo.InvariantCulture, $"{what}: {watch.Elapsed.TotalMilliseconds:0.0} ms"));
        return result;
    }

    private void Measure(string what, Action work) => Measure(what, () =>
    {
        work();
        return true;
    });

    private void Print(string line)
    {
        _output.WriteLine(line);
        Console.WriteLine(line);
    }
}
