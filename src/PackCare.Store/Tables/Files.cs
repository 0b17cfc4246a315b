using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Dapper;
using Microsoft.Data.Sqlite;
using PackCare.Store.Json;

namespace PackCare.Store.Tables;

/// <summary>Imported files.</summary>
internal static class Files
{
    private const string SelectFull =
        """
        SELECT sha256 AS Sha256, name AS Name, bytes AS Bytes, imported_utc AS ImportedUtc, imported_offset_min AS ImportedOffsetMin,
               reading AS Reading, ledger AS Ledger, notices AS Notices
        FROM file WHERE removed = 0
        """;

    public static StoredFile? Find(SqliteConnection connection, string sha256)
    {
        Row? row = connection.QueryFirstOrDefault<Row>(
            "SELECT id AS Id, sha256 AS Sha256, name AS Name, imported_utc AS ImportedUtc, imported_offset_min AS ImportedOffsetMin FROM file WHERE removed = 0 AND sha256 = @sha256",
            new { sha256 });
        return row?.ToFile(connection.Query<long>("SELECT id FROM session WHERE file_id = @Id ORDER BY ordinal", row));
    }

    public static IReadOnlyList<StoredFile> All(SqliteConnection connection)
    {
        ILookup<long, long> sessions = connection.Query<SessionOfFile>(
            "SELECT file_id AS FileId, id AS Id FROM session WHERE removed = 0 ORDER BY file_id, ordinal").ToLookup(row => row.FileId, row => row.Id);
        return
        [
            .. connection.Query<Row>(
                "SELECT id AS Id, sha256 AS Sha256, name AS Name, imported_utc AS ImportedUtc, imported_offset_min AS ImportedOffsetMin FROM file WHERE removed = 0 ORDER BY id")
                .Select(row => row.ToFile(sessions[row.Id])),
        ];
    }

    public static ImportedFile? Load(SqliteConnection connection, string sha256) =>
        connection.QueryFirstOrDefault<FullRow>(SelectFull + " AND sha256 = @sha256", new { sha256 })?.ToFile();

    /// <summary>All files in the order of import, one at a time.</summary>
    public static IEnumerable<ImportedFile> LoadAll(SqliteConnection connection) =>
        connection.Query<FullRow>(SelectFull + " ORDER BY id", buffered: false).Select(row => row.ToFile());

    public static long Add(SqliteConnection connection, ImportedFile file, long? id = null)
    {
        using var insertion = new Insertion(
            connection,
            "file",
            ["id", "sha256", "name", "bytes", "imported_utc", "imported_offset_min", "reading", "ledger", "notices"]);
        return insertion.Run(
            id,
            file.Sha256,
            file.Name,
            file.Bytes,
            Instant.Utc(file.Imported),
            Instant.OffsetMinutes(file.Imported),
            JsonSerializer.Serialize(file.Reading, FileJson.Default.LogReading),
            JsonSerializer.Serialize(file.Ledger, FileJson.Default.Ledger),
            JsonSerializer.Serialize(file.Notices, FileJson.Default.IReadOnlyListInputProblem));
    }

    internal sealed record SessionOfFile(long FileId, long Id);

    internal sealed record Row(long Id, string Sha256, string Name, string ImportedUtc, long ImportedOffsetMin)
    {
        public StoredFile ToFile(IEnumerable<long> sessions) =>
            new(Sha256, Name, Instant.Parse(ImportedUtc, ImportedOffsetMin), [.. sessions]);
    }

    internal sealed record FullRow(
        string Sha256,
        string Name,
        long Bytes,
        string ImportedUtc,
        long ImportedOffsetMin,
        string Reading,
        string Ledger,
        string Notices)
    {
        public ImportedFile ToFile() => new(
            Sha256,
            Name,
            Bytes,
            Instant.Parse(ImportedUtc, ImportedOffsetMin),
            Parse(Reading, FileJson.Default.LogReading),
            Parse(Ledger, FileJson.Default.Ledger),
            Parse(Notices, FileJson.Default.IReadOnlyListInputProblem));

        private T Parse<T>(string json, JsonTypeInfo<T> type)
        {
            try
            {
                return JsonSerializer.Deserialize(json, type) ?? throw new InvalidDataException($"the account of file {Sha256} is empty");
            }
            catch (JsonException error)
            {
                throw new InvalidDataException($"the account of file {Sha256} is not what was stored", error);
            }
        }
    }
}
