using System.Globalization;
using System.Text;
using PackCare.Core.Reading;
using PackCare.Core.Samples;

namespace PackCare.Import.Tests;

/// <summary>Reads logs and compares sessions to the last digit.</summary>
internal static class Logs
{
    internal static readonly DateTimeOffset Written = new(2026, 5, 1, 12, 0, 0, TimeSpan.Zero);

    internal static ReadResult ReadFile(string path, bool allowTruncated = false, TimeZoneInfo? zone = null)
    {
        using FileStream stream = File.OpenRead(path);
        return LogReader.Read(stream, new LogSource(Path.GetFileName(path), Written), new ReadOptions(null, zone ?? TimeZoneInfo.Utc, allowTruncated));
    }

    internal static ReadResult ReadBytes(byte[] bytes, string name = "log.csv", TimeZoneInfo? zone = null, DateTimeOffset? started = null)
    {
        using var stream = new MemoryStream(bytes, writable: false);
        return LogReader.Read(stream, new LogSource(name, Written), new ReadOptions(started, zone ?? TimeZoneInfo.Utc));
    }

    internal static ReadResult ReadText(string text, string name = "log.csv", TimeZoneInfo? zone = null, DateTimeOffset? started = null) =>
        ReadBytes(Encoding.UTF8.GetBytes(text), name, zone, started);

    internal static void AssertEqual(string truthPath, SampleSeries samples)
    {
        string[] lines = File.ReadAllLines(truthPath);
        string[] names = lines[0].Split('\t');
        Assert.Equal(names.Order(StringComparer.Ordinal), samples.Channels.Select(channel => Name(channel.Key)).Order(StringComparer.Ordinal));
        decimal start = decimal.Parse(lines[1].Split('\t')[Array.IndexOf(names, "time")], NumberStyles.Float, CultureInfo.InvariantCulture);
        for (int c = 0; c < names.Length; c++)
        {
            decimal?[] read = [.. samples.Channels.Single(channel => Name(channel.Key) == names[c]).ToDecimals()];
            Assert.Equal(lines.Length - 1, read.Length);
            for (int r = 0; r < read.Length; r++)
            {
                string text = lines[r + 1].Split('\t')[c];
                decimal? truth = text.Length == 0 ? null : decimal.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture) - (names[c] == "time" ? start : 0);
                Assert.True(truth == read[r], $"{names[c]} in sample {r + 1}: {read[r]?.ToString(CultureInfo.InvariantCulture) ?? "none"} where the truth is {truth?.ToString(CultureInfo.InvariantCulture) ?? "none"}");
            }
        }
    }

    internal static int RowsThatBecameSamples(ReadResult result) =>
        result.Reading!.Layout == LogLayout.Wide ? result.Sessions.Sum(session => session.Samples.Count) : result.Ledger.Samples;

    internal static string Name(ChannelKey key) => key.Kind switch
    {
        ChannelKind.Time => "time",
        ChannelKind.PackVoltage => "pack",
        ChannelKind.CellVoltage => $"cell{key.Index}",
        ChannelKind.Current => "current",
        ChannelKind.Charge => "charge",
        ChannelKind.Energy => "energy",
        ChannelKind.Temperature => $"temperature{key.Index}",
        _ => $"resistance{key.Index}",
    };
}
