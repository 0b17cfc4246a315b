using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Microsoft.Data.Sqlite;
using PackCare.Core.Packs;
using PackCare.Core.Samples;
using PackCare.Core.Units;
using PackCare.Store.Tables;

namespace PackCare.Store.Exchange;

/// <summary>Fills an empty history from an export; numbers stay as they were.</summary>
internal sealed class Importer(SqliteConnection connection, string folder)
{
    /// <exception cref="FormatException">The folder is no export, or not as it was exported; the message says where.</exception>
    public void Run()
    {
        if (!File.Exists(Path.Combine(folder, HashedFolder.ListName)))
        {
            throw new FormatException($"it has no {HashedFolder.ListName}");
        }

        HashedFolder.Check(folder);
        ExportLine export = Lines(Exporter.FormName, LineJson.Readable.ExportLine).Single();
        if (export.Format != Exporter.Format || export.Version > Exporter.Version)
        {
            throw new FormatException($"its form is {export.Format} {export.Version}, this version reads {Exporter.Format} {Exporter.Version}");
        }

        foreach (PackLine pack in Lines("packs.jsonl", LineJson.Readable.PackLine))
        {
            _ = Tables.Packs.Add(connection, Details(pack), pack.Added, pack.Id)
                ?? throw new FormatException($"packs.jsonl has the label {pack.Label} twice");
        }

        foreach (RetirementLine line in Lines("retirements.jsonl", LineJson.Readable.RetirementLine))
        {
            Tables.Packs.Retire(connection, line.PackId, new Retirement(line.At, line.Reason), line.Id);
        }

        foreach (SpotCheckLine line in Lines("spot-checks.jsonl", LineJson.Readable.SpotCheckLine))
        {
            SpotChecks.Add(connection, line.PackId, new SpotCheck(0, line.At, line.CellVolts, line.Celsius, line.CellMilliohms), line.Id);
        }

        foreach (DiaryLine line in Lines("diary.jsonl", LineJson.Readable.DiaryLine))
        {
            DiaryEntries.Add(connection, line.PackId, new DiaryEntry(0, line.At, line.Kind, line.Swollen, line.Damaged, line.MaxCelsius, line.Text), line.Id);
        }

        foreach (FileLine line in Lines("files.jsonl", LineJson.Readable.FileLine))
        {
            Tables.Files.Add(connection, new ImportedFile(line.Sha256, line.Name, line.Bytes, line.Imported, line.Reading, line.Ledger, line.Notices), line.Id);
        }

        if (File.Exists(Path.Combine(folder, Exporter.GuidesName)))
        {
            foreach (StoredGuide guide in Lines(Exporter.GuidesName, LineJson.Readable.StoredGuide))
            {
                Guides.Keep(connection, guide);
            }
        }

        using var sessions = new SessionWriter(connection);
        foreach (SessionLine line in Lines("sessions.jsonl", LineJson.Readable.SessionLine))
        {
            sessions.Add(line, Samples(line.Id));
        }
    }

    private static PackDetails Details(PackLine line) => new(
        line.Label,
        line.Cells,
        line.Parallel,
        line.Chemistry,
        line.RatedCapacityAh is { } capacity ? new AmpereHours(capacity) : null,
        line.RatedDischargeC,
        line.Bought,
        line.Price,
        line.Currency,
        line.Vehicle,
        line.Connector);

    private SampleSeries Samples(long sessionId)
    {
        string name = Exporter.SamplesName(sessionId);
        try
        {
            using var text = new StreamReader(Path.Combine(folder, name));
            return SampleText.Read(text);
        }
        catch (FormatException error)
        {
            throw new FormatException($"{name}, {error.Message}", error);
        }
    }

    private IEnumerable<T> Lines<T>(string name, JsonTypeInfo<T> type)
    {
        int number = 0;
        foreach (string line in File.ReadLines(Path.Combine(folder, name)))
        {
            number++;
            T record;
            try
            {
                record = JsonSerializer.Deserialize(line, type) ?? throw new JsonException("null");
            }
            catch (JsonException error)
            {
                throw new FormatException($"{name}, line {number}: {error.Message}", error);
            }

            yield return record;
        }
    }
}
