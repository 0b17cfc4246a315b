using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Microsoft.Data.Sqlite;
using PackCare.Store.Tables;

namespace PackCare.Store.Exchange;

/// <summary>Writes all that stands in a history to open files.</summary>
internal sealed class Exporter(SqliteConnection connection, string folder)
{
    public const string Format = "packcare-export";

    /// <summary>The file that states the form.</summary>
    public const string FormName = "export.json";
    /// <summary>The file of reading guides; exports of earlier versions have none.</summary>
    public const string GuidesName = "guides.jsonl";
    public const int Version = 1;

    private readonly HashedFolder _folder = new(folder);

    public static string SamplesName(long sessionId) =>
        string.Create(CultureInfo.InvariantCulture, $"samples/{sessionId / 1000:0000}/{sessionId:0000000}.csv");

    public ExportReport Run()
    {
        List<long> left = [];
        _folder.Write(FormName, text => text.Write(JsonSerializer.Serialize(new ExportLine(Format, Version), LineJson.Readable.ExportLine) + "\n"));
        long packs = Lines("packs.jsonl", Records.Packs(connection), LineJson.Readable.PackLine);
        Lines("retirements.jsonl", Records.Retirements(connection), LineJson.Readable.RetirementLine);
        Lines("spot-checks.jsonl", Records.SpotChecks(connection), LineJson.Readable.SpotCheckLine);
        Lines("diary.jsonl", Records.Diary(connection), LineJson.Readable.DiaryLine);
        Lines(GuidesName, Guides.All(connection), LineJson.Readable.StoredGuide);
        Lines("files.jsonl", Records.Files(connection), LineJson.Readable.FileLine);
        long sessions = Lines("sessions.jsonl", Records.Sessions(connection).Where(session => WriteSamples(session.Id, left)), LineJson.Readable.SessionLine);
        _folder.Close();
        return new ExportReport(packs, sessions, left);
    }

    private bool WriteSamples(long sessionId, List<long> left)
    {
        Core.Samples.SampleSeries samples;
        try
        {
            samples = SampleBlocks.Read(connection, sessionId);
            foreach (Core.Samples.Channel channel in samples.Channels)
            {
                _ = channel.ToDoubles();
            }
        }
        catch (InvalidDataException)
        {
            left.Add(sessionId);
            return false;
        }

        _folder.Write(SamplesName(sessionId), text => SampleText.Write(text, samples));
        return true;
    }

    private long Lines<T>(string name, IEnumerable<T> records, JsonTypeInfo<T> type)
    {
        long count = 0;
        _folder.Write(name, text =>
        {
            foreach (T record in records)
            {
                text.Write(JsonSerializer.Serialize(record, type));
                text.Write('\n');
                count++;
            }
        });
        return count;
    }
}
