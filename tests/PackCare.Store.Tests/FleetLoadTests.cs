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
        string path = Fleet();
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

        using (History history = History.Open(path, create: false))
        {
            IReadOnlyDictionary<long, long> revisions = Measure("Revisions", history.Revisions);
            Measure("KeepDigests of all packs", () => history.KeepDigests("load 1", revisions.Select(pack => (pack.Key, pack.Value, new string('x', 2000)))));
            for (int round = 0; round < 3; round++)
            {
                Assert.Equal(Packs, Measure("PacksWithDigests", () => history.PacksWithDigests("load 1")).Count(one => one.Digest is not null));
            }
        }

        CompareAdding(path);
    }

    [Fact]
    public void A_large_fleet_is_loaded_whole_in_the_time_and_memory_that_are_printed()
    {
        using History history = History.Open(Fleet(), create: false);
        IReadOnlyList<PackHistory> all = Measure("LoadAll", history.LoadAll);

        Assert.Equal(Packs, all.Count);
        Print($"memory after LoadAll {GC.GetTotalMemory(forceFullCollection: true) / 1e6:0} MB");
        GC.KeepAlive(all);
    }

    // In turns, so that whatever else the machine does falls on both alike.
    private void CompareAdding(string path)
    {
        string small = Path.Combine(Path.GetDirectoryName(path)!, "small.db");
        File.Delete(small);
        List<double> toLarge = [];
        List<double> toSmall = [];
        for (int round = 0; round < 41; round++)
        {
            toLarge.Add(Add(path));
            toSmall.Add(Add(small));
        }

        toLarge.Sort();
        toSmall.Sort();
        Print(string.Create(
            CultureInfo.InvariantCulture,
            $"open, add a file, close, median of 41: {toLarge[20]:0.0} ms large, {toSmall[20]:0.0} ms small, ratio {toLarge[20] / toSmall[20]:0.00}; quickest {toLarge[0]:0.0} ms, {toSmall[0]:0.0} ms"));

        static double Add(string path)
        {
            var watch = Stopwatch.StartNew();
            using (History history = Make.NewHistory(path))
            {
                history.AddFile(Make.File($"added {Guid.NewGuid()}"), [new NewSession(null, Make.Log(cells: Cells), Make.Summary(Cells))]);
            }

            return watch.Elapsed.TotalMilliseconds;
        }
    }

    private string Fleet()
    {
        string? folder = Environment.GetEnvironmentVariable("PACKCARE_LOAD");
        Assert.SkipWhen(string.IsNullOrEmpty(folder), "PACKCARE_LOAD is not set.");
        string path = Path.Combine(folder, $"fleet-{Packs}x{SessionsPerPack}.db");
        if (!File.Exists(path))
        {
            Measure("making it", () => Generate(path));
        }

        Print($"{path}: {new FileInfo(path).Length / 1e6:0} MB");
        return path;
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
