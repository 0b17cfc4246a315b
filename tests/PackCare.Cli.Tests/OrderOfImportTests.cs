using System.Globalization;
using System.Security.Cryptography;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using PackCare.Cli.Tests.Running;

namespace PackCare.Cli.Tests;

/// <summary>
/// Whatever the order in which logs, spot checks and entries come in, by folder, in heaps or one by one, the history says the same. Only what
/// records that order may differ: the numbers that sessions, files, checks and entries were given, and the time of import. Where output names
/// a session by its number, the number is replaced here by its file before the rest is compared byte by byte.
/// </summary>
public sealed partial class OrderOfImportTests
{
    private static readonly string[] Fleet = ["Dipper 2 1300 lipo", "Teal 4 4200 lihv", "Heron 4 5000 lipo", "Egret 4 5000 lipo", "Sandpiper 3 2200 lipo"];
    private static readonly string[] Folders = ["jetty", "bench-a"];
    private static readonly string[] Kinds = ["packs", "files", "sessions", "spot-checks", "diary"];
    private static readonly string[] Numbering = ["id", "imported", "added"];

    [Fact]
    public void Logs_and_entries_one_by_one_in_any_order_say_what_a_folder_at_once_says()
    {
        string[] logs = [.. Directory.GetFiles(Path.Combine(Repository.SampleLogs, "jetty"), "Dipper-*.csv").Order(StringComparer.Ordinal)];
        string[][] entered =
        [
            ["check", "Dipper", "3.81", "3.80", "--at", "2025-12-01T10:00Z"],
            ["check", "Dipper", "3.80", "3.79", "--at", "2026-01-15T10:00Z"],
            ["check", "Dipper", "3.79", "3.78", "--at", "2026-02-20T10:00Z"],
            ["log", "Dipper", "run", "--at", "2026-05-20T10:00Z"],
            ["log", "Dipper", "storage", "--at", "2026-06-20T10:00Z"],
        ];

        Said folder = Say("Dipper", run =>
        {
            string source = Directory.CreateDirectory(Path.Combine(run.Folder, "logs")).FullName;
            Array.ForEach(logs, log => File.Copy(log, Path.Combine(source, Path.GetFileName(log))));
            run.Run("import", source, "--zone", "Europe/Berlin").Expect(0);
            Array.ForEach(entered, one => run.Run(one).Expect(0));
        });
        Said single = Say("Dipper", run =>
        {
            string[][] steps = [.. logs.Select(log => new[] { "import", log, "--zone", "Europe/Berlin" }), .. entered];
            Array.ForEach(Shuffled(steps, seed: 1), step => run.Run(step).Expect(0));
        });

        Compare(folder, single);
    }

    [Fact]
    public void A_fleets_logs_in_heaps_of_any_order_say_what_all_at_once_say()
    {
        string[] logs = [.. Folders.SelectMany(folder => Directory.GetFiles(Path.Combine(Repository.SampleLogs, folder), "*.csv")).Order(StringComparer.Ordinal)];

        Said together = Say(null, run => run.Run(["import", .. logs, "--zone", "Europe/Berlin"]).Expect(0));
        Said heaps = Say(null, run =>
        {
            foreach (string[] heap in Shuffled(logs, seed: 2).Chunk(17))
            {
                run.Run(["import", .. heap, "--zone", "Europe/Berlin"]).Expect(0);
            }
        });

        Compare(together, heaps);
    }

    private static void Compare(Said expected, Said actual)
    {
        Assert.Equal(expected.Words, actual.Words);
        Assert.Equal(expected.Export, actual.Export);
    }

    private static Said Say(string? only, Action<Bench> fill)
    {
        using var bench = new Bench();
        string[] labels = [.. Fleet.Select(line => line.Split(' ')).Where(pack => only is null || pack[0] == only).Select(pack =>
        {
            bench.Run("add", pack[0], "--cells", pack[1], "--capacity", pack[2], "--chemistry", pack[3]).Expect(0);
            return pack[0];
        })];
        fill(bench);

        string folder = Path.Combine(bench.Folder, "export");
        bench.Run("export", folder).Expect(0);
        Dictionary<long, string> files = Lines(folder, "files").ToDictionary(line => (long)line["id"]!, line => (string)line["name"]!);
        Dictionary<long, string> sessions = Lines(folder, "sessions").ToDictionary(line => (long)line["id"]!, line => $"{files[(long)line["fileId"]!]} {line["ordinal"]}");
        Assert.True(sessions.Count >= 15, "There is too little on record for an order to matter.");
        Assert.Equal(sessions.Count, sessions.Values.Distinct().Count());

        IEnumerable<string> output = labels.SelectMany(label => new[] { new[] { "show", label }, ["show", label, "--json"], ["why", label] }).Append(["due"]).Append(["due", "--json"]).Append(["list"]).Append(["list", "--json"])
            .Select(command => $"$ {string.Join(' ', command)}\n{bench.Run(command).Expect(0).Out}");
        return new Said(
            Added().Replace(Named(string.Join('\n', output), sessions), ""),
            string.Join('\n', Kinds.SelectMany(kind => Lines(folder, kind).Select(line => kind + " " + Canonical(folder, kind, line, files)).Order(StringComparer.Ordinal))));
    }

    // "sessions":[3,1,2] of output for programs, "Rests on sessions 3, 1, 2" of sentences. Numbers differ in length, and so where a sentence
    // wraps: runs of spaces and line breaks become one space.
    private static string Named(string text, Dictionary<long, string> sessions) =>
        References().Replace(Spaces().Replace(text, " "), match => Number().Replace(match.Value, number => sessions[long.Parse(number.Value, CultureInfo.InvariantCulture)]));

    private static string Canonical(string folder, string kind, JsonObject line, Dictionary<long, string> files)
    {
        if (kind == "sessions")
        {
            long id = (long)line["id"]!;
            string samples = Directory.GetFiles(Path.Combine(folder, "samples"), $"{id:0000000}.csv", SearchOption.AllDirectories).Single();
            line["samples"] = Convert.ToHexString(SHA256.HashData(File.ReadAllBytes(samples)));
            line["fileId"] = files[(long)line["fileId"]!];
        }

        foreach (string numbering in Numbering)
        {
            line.Remove(numbering);
        }

        return line.ToJsonString();
    }

    private static IEnumerable<JsonObject> Lines(string folder, string kind) =>
        File.ReadLines(Path.Combine(folder, kind + ".jsonl")).Select(line => JsonNode.Parse(line)!.AsObject());

    private static T[] Shuffled<T>(T[] items, int seed)
    {
        T[] copy = [.. items];
        new Random(seed).Shuffle(copy);
        return copy;
    }

    private sealed record Said(string Words, string Export);

    [GeneratedRegex("\"addedUtc\":\"[^\"]*\"")]
    private static partial Regex Added();

    [GeneratedRegex("\"sessions\":\\[[0-9,]+\\]|Rests on sessions? [0-9]+(?:, [0-9]+)*")]
    private static partial Regex References();

    [GeneratedRegex(@"\d+")]
    private static partial Regex Number();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();
}
