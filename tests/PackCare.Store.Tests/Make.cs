using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using PackCare.Core.Packs;
using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Core.Sessions;
using PackCare.Core.Units;

namespace PackCare.Store.Tests;

/// <summary>Invented records in which every field has a value of its own, so that no two can be mixed up unseen.</summary>
internal static class Make
{
    public static readonly DateTimeOffset Morning = new(2025, 3, 30, 7, 15, 30, TimeSpan.FromHours(2));

    public static PackDetails Details(string label = "Otter 1", Chemistry chemistry = Chemistry.LiHv) => new(
        label, 3, 2, chemistry, AmpereHours.FromMilliampereHours(5200), 45.5, new DateOnly(2024, 2, 29), 59.90m, "EUR", "survey boat", "round 4 mm");

    public static PackDetails BareDetails(string label) => new(label, 4);

    public static SampleSeries Samples(int rows = 40, int cells = 3, int seed = 1)
    {
        var random = new Random(seed);
        var writers = new Dictionary<ChannelKey, ChannelWriter>();
        ChannelWriter Writer(ChannelKey key) => writers.TryGetValue(key, out ChannelWriter? writer) ? writer : writers[key] = new ChannelWriter(key);
        for (int i = 0; i < rows; i++)
        {
            Writer(ChannelKey.Time).TryAppend(i * 10L, 0);
            Writer(ChannelKey.Current).TryAppend(i % 7 == 0 ? 0 : -1250 + random.Next(9), 3);
            if (i % 5 == 0)
            {
                Writer(ChannelKey.Temperature(1)).AppendMissing();
            }
            else
            {
                Writer(ChannelKey.Temperature(1)).TryAppend(-35 + i, 1);
            }

            for (int cell = 1; cell <= cells; cell++)
            {
                Writer(ChannelKey.Cell(cell)).TryAppend(3700 + (10 * cell) + random.Next(4), 3);
            }
        }

        return new SampleSeries([.. writers.Values.Select(writer => writer.ToChannel())]);
    }

    public static SessionLog Log(DateTimeOffset? started = null, int rows = 40, int cells = 3, int seed = 1, string? hint = "otter one") =>
        new(started ?? Morning, TimeQuality.FileDate, hint, 7, 7 + rows - 1, Samples(rows, cells, seed));

    public static SessionSummary Summary(int cells = 3, int salt = 0) => new(
        3 + salt, SessionKind.Mixed, 390.25, 40, 10.125, 1.1, 0.2, 12.3, 2.4, 1.25, 20.5, 21.1, -3.5, 22.2, 60.5, 120.75, true,
        new ResistanceReading(0.0123, 0.0004, 3, 1.5, 21.5),
        [.. Enumerable.Range(1, cells).Select(cell => Cell(cell, salt))]);

    public static SessionSummary EmptySummary() => new(
        1, SessionKind.Rest, 0, 1, null, null, null, null, null, null, null, null, null, null, null, null, false, null, []);

    public static CellSummary Cell(int cell, int salt = 0) => cell == 2
        ? new CellSummary(2, null, 3.9, null, null, null, null)
        : new CellSummary(
            cell, 3.7 + salt, 4.1, 3.71, 4.09, 3.69, 4.11,
            new ResistanceReading(0.0051 * cell, 0.0001, 4, 2.5, null),
            new ResistanceReading(0.0042 * cell, 0.0002, 5, 0, 24.5),
            new ChargeAlignment(-0.031, 0.002, 1.013, 0.004));

    public static ImportedFile File(string content = "one") => new(
        Sha(content),
        $"{content}.csv",
        4711,
        Morning.AddDays(1),
        new LogReading(
            ';',
            ',',
            "windows-1252",
            LogLayout.Long,
            "elapsed seconds",
            [new ColumnReading(1, "Zeit \"s\"", ColumnMeaning.ElapsedTime, "s", null, "rises by 10"), new ColumnReading(2, null, ColumnMeaning.CellVoltage, null, 3, "lies between 3 and 4.2 \u00b5")],
            ["decimal commas: \u00e4\ud83d\udd0b", ""]),
        new Ledger(50, 1, 1, 40, 3, 2, 2, 1),
        [new InputProblem("odd-row", ProblemLevel.Notice, 12, 3, "a blank field", "nothing to do"), new InputProblem("no-date", ProblemLevel.Notice, null, null, "no date", "give --started")]);

    public static SpotCheck SpotCheck(int day = 0) => new(0, Morning.AddDays(day), [3.851, 3.849, 3.8], 18.5, [5.1, 5.2, 9.7]);

    public static DiaryEntry Entry(int day = 0) =>
        new(0, Morning.AddDays(day), EntryKind.Inspection, true, false, 55.5, "a bump at the seam\nlower left");

    public static string Sha(string content) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(content)));

    public static History NewHistory(string path) => History.Open(path, create: true);

    /// <summary>Asserts that two values are the same to the last digit, lists and all.</summary>
    public static void AssertSame<T>(T expected, T actual) => Assert.Equal(Text(expected), Text(actual));

    public static void AssertSame(SampleSeries expected, SampleSeries actual) => Assert.Equal(Text(expected), Text(actual));

    public static string Text<T>(T value) => JsonSerializer.Serialize(value, Indented);

    private static string Text(SampleSeries samples) => string.Join(
        '\n',
        samples.Channels.Select(channel => $"{channel.Key}: {string.Join(' ', channel.ToDecimals())} in blocks of {string.Join(' ', channel.Blocks.Select(block => block.Count))}"));

    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true };
}
