using Dapper;
using Microsoft.Data.Sqlite;
using PackCare.Core.Packs;
using PackCare.Store.Tables;

namespace PackCare.Store.Exchange;

/// <summary>The lines of an export, read from a history in order of number.</summary>
internal static class Records
{
    public static IEnumerable<PackLine> Packs(SqliteConnection connection) => Tables.Packs.All(connection)
        .OrderBy(pack => pack.Id)
        .Select(pack => new PackLine(
            pack.Id,
            pack.Label,
            pack.Details.Cells,
            pack.Details.Parallel,
            pack.Details.Chemistry,
            pack.Details.RatedCapacity?.Value,
            pack.Details.RatedDischargeC,
            pack.Details.Bought,
            pack.Details.Price,
            pack.Details.Currency,
            pack.Details.Vehicle,
            pack.Details.Connector,
            pack.Added));

    public static IEnumerable<RetirementLine> Retirements(SqliteConnection connection) =>
        RowReading.All(
            connection,
            "SELECT id, pack_id, at_utc, at_offset_min, reason FROM retirement WHERE removed = 0 ORDER BY id",
            row => new RetirementLine(row.GetInt64(0), row.GetInt64(1), Instant.Parse(row.GetString(2), row.GetInt64(3)), row.GetString(4)));

    public static IEnumerable<SpotCheckLine> SpotChecks(SqliteConnection connection) => Tables.SpotChecks.Read(connection, null)
        .SelectMany(checks => checks.Select(check => (PackId: checks.Key, Check: check)))
        .OrderBy(row => row.Check.Id)
        .Select(row => new SpotCheckLine(row.Check.Id, row.PackId, row.Check.At, row.Check.CellVolts, row.Check.Celsius, row.Check.CellMilliohms));

    public static IEnumerable<DiaryLine> Diary(SqliteConnection connection) => DiaryEntries.Read(connection, null)
        .SelectMany(entries => entries.Select(entry => (PackId: entries.Key, Entry: entry)))
        .OrderBy(row => row.Entry.Id)
        .Select(row => Line(row.PackId, row.Entry));

    public static IEnumerable<FileLine> Files(SqliteConnection connection) => connection
        .Query<long>("SELECT id FROM file WHERE removed = 0 ORDER BY id")
        .Zip(Tables.Files.LoadAll(connection), (id, file) => new FileLine(id, file.Sha256, file.Name, file.Bytes, file.Imported, file.Reading, file.Ledger, file.Notices));

    public static IEnumerable<SessionLine> Sessions(SqliteConnection connection)
    {
        foreach (Row row in connection.Query<Row>(
            """
            SELECT id AS Id, file_id AS FileId, ordinal AS Ordinal, pack_id AS PackId, pack_hint AS PackHint, started_utc AS StartedUtc,
                   started_offset_min AS StartedOffset, time_quality AS TimeQuality, first_line AS FirstLine, last_line AS LastLine
            FROM session WHERE removed = 0 ORDER BY id
            """))
        {
            yield return new SessionLine(
                row.Id,
                row.FileId,
                (int)row.Ordinal,
                row.PackId,
                row.PackHint,
                Instant.Parse(row.StartedUtc, row.StartedOffset),
                Words.TimeQuality.Parse(row.TimeQuality),
                (int)row.FirstLine,
                (int)row.LastLine,
                SessionReader.Find(connection, row.Id)?.Summary);
        }
    }

    private static DiaryLine Line(long packId, DiaryEntry entry) =>
        new(entry.Id, packId, entry.At, entry.Kind, entry.Swollen, entry.Damaged, entry.MaxCelsius, entry.Text);

    internal sealed record Row
    {
        public long Id { get; init; }

        public long FileId { get; init; }

        public long Ordinal { get; init; }

        public long? PackId { get; init; }

        public string? PackHint { get; init; }

        public string StartedUtc { get; init; } = "";

        public long StartedOffset { get; init; }

        public string TimeQuality { get; init; } = "";

        public long FirstLine { get; init; }

        public long LastLine { get; init; }
    }
}
