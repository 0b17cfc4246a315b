using Dapper;
using Microsoft.Data.Sqlite;
using PackCare.Core.Packs;

namespace PackCare.Store.Tables;

/// <summary>Diary entries.</summary>
internal static class DiaryEntries
{
    public static ILookup<long, DiaryEntry> Read(SqliteConnection connection, long? packId) =>
        connection.Query<Row>(
            $"""
            SELECT id AS Id, pack_id AS PackId, at_utc AS AtUtc, at_offset_min AS AtOffsetMin, kind AS Kind,
                   swollen AS Swollen, damaged AS Damaged, max_celsius AS MaxCelsius, text AS Text
            FROM diary_entry WHERE removed = 0 {(packId is null ? "" : "AND pack_id = @packId")} ORDER BY at_utc, id
            """,
            new { packId }).ToLookup(row => row.PackId, row => row.ToEntry());

    public static DiaryEntry Add(SqliteConnection connection, long packId, DiaryEntry entry, long? number = null)
    {
        using var insertion = new Insertion(
            connection,
            "diary_entry",
            ["id", "pack_id", "at_utc", "at_offset_min", "kind", "swollen", "damaged", "max_celsius", "text"]);
        long id = insertion.Run(
            number,
            packId,
            Instant.Utc(entry.At),
            Instant.OffsetMinutes(entry.At),
            Words.EntryKind.Of(entry.Kind),
            entry.Swollen ? 1L : 0L,
            entry.Damaged ? 1L : 0L,
            entry.MaxCelsius,
            entry.Text);
        Changes.Record(connection, ChangeKind.Entry, id);
        Packs.Touch(connection, packId);
        return entry with { Id = id };
    }

    private sealed record Row(
        long Id,
        long PackId,
        string AtUtc,
        long AtOffsetMin,
        string Kind,
        long Swollen,
        long Damaged,
        double? MaxCelsius,
        string? Text)
    {
        public DiaryEntry ToEntry() => new(
            Id,
            Instant.Parse(AtUtc, AtOffsetMin),
            Words.EntryKind.Parse(Kind),
            Swollen != 0,
            Damaged != 0,
            MaxCelsius,
            Text);
    }
}
