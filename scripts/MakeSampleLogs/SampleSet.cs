using System.Text.Encodings.Web;
using System.Text.Json;
using PackCare.Simulation;

namespace PackCare.SampleLogs;

/// <summary>The whole set as it grows: files, roster, checks, diary.</summary>
/// <param name="seed">Seed of everything random in the set; another seed tells the same stories with other cells and other noise.</param>
internal sealed class SampleSet(ulong seed = SampleSet.CommittedSeed)
{
    /// <summary>Seed of the committed files.</summary>
    public const ulong CommittedSeed = 20251031;

    /// <summary>The moment for which the demonstration is meant.</summary>
    public static readonly DateTimeOffset Now = BerlinTime.At(new DateTime(2026, 11, 2, 7, 30, 0));

    private static readonly JsonSerializerOptions Json = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        WriteIndented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    private readonly List<Logged> _logs = [];

    /// <summary>The lives, in the order of <see cref="Stories.All"/>, each as it is at <see cref="Now"/>.</summary>
    public List<PackLife> Lives { get; } = [];

    /// <summary>Start, end and pack of every log; the pack's label is empty where it was left out.</summary>
    public IEnumerable<(string Pack, DateTimeOffset Started, DateTimeOffset Ended)> Spans =>
        _logs.Select(log => (log.Pack, log.Started, log.Started.AddSeconds(log.Log.Seconds[^1])));

    /// <summary>The first log of a pack that did not start before a local time.</summary>
    /// <param name="pack">The pack's label.</param>
    /// <param name="notBefore">Local time.</param>
    public SimulatedLog Log(string pack, DateTime notBefore) =>
        _logs.Where(log => log.Pack == pack && log.Started.DateTime >= notBefore).MinBy(log => log.Started)!.Log;

    /// <summary>The packs.</summary>
    public List<FleetPack> Packs { get; } = [];

    /// <summary>The spot checks.</summary>
    public List<FleetCheck> Checks { get; } = [];

    /// <summary>The diary.</summary>
    public List<FleetEntry> Entries { get; } = [];

    /// <summary>Seed of everything random in the set.</summary>
    public ulong Seed => seed;

    /// <summary>Keeps a log.</summary>
    /// <param name="station">Where it was written.</param>
    /// <param name="pack">The pack's label; empty where it was left out.</param>
    /// <param name="started">Time of the first sample.</param>
    /// <param name="log">The samples.</param>
    public void Add(Station station, string pack, DateTimeOffset started, SimulatedLog log) =>
        _logs.Add(new Logged(station, pack, started, log));

    /// <summary>Lives all lives again and writes the set.</summary>
    /// <returns>Every file, in order of path.</returns>
    public static IReadOnlyList<SampleFile> Generate() => Build().Files();

    /// <summary>Lives all lives again, up to <see cref="Now"/>.</summary>
    /// <param name="seed">Seed of everything random in it.</param>
    public static SampleSet Build(ulong seed = CommittedSeed)
    {
        var set = new SampleSet(seed);
        foreach (var story in Stories.All)
        {
            var life = story.Live(set);
            life.Until(Now.DateTime);
            set.Lives.Add(life);
        }

        return set;
    }

    /// <summary>Writes the set.</summary>
    public IReadOnlyList<SampleFile> Files()
    {
        var files = new List<SampleFile>();
        foreach (var station in _logs.GroupBy(log => log.Station))
        {
            var logs = station.OrderBy(log => log.Started).ThenBy(log => log.Pack, StringComparer.Ordinal);
            var together = station.Key.OneFileADay ? logs.GroupBy(log => log.Started.Date) : logs.Select(log => (IEnumerable<Logged>)[log]);
            files.AddRange(together.Select((file, index) => station.Key.File([.. file.Select(log => (new LogMeta(log.Pack, log.Started, index + 1), log.Log))])));
        }

        var fleet = new Fleet(
            "Invented for this demonstration: a school's river-survey team and its small drone boats. No pack, person, place or device in these files exists. docs/demo.md tells the stories and the true figures.",
            Now,
            Packs,
            [.. Checks.OrderBy(check => check.At).ThenBy(check => check.Pack, StringComparer.Ordinal)],
            [.. Entries.OrderBy(entry => entry.At).ThenBy(entry => entry.Pack, StringComparer.Ordinal)]);
        files.Add(new SampleFile("fleet.json", [.. JsonSerializer.SerializeToUtf8Bytes(fleet, Json), (byte)'\n']));
        return [.. files.OrderBy(file => file.Path, StringComparer.Ordinal)];
    }

    private sealed record Logged(Station Station, string Pack, DateTimeOffset Started, SimulatedLog Log);
}
