using Microsoft.Data.Sqlite;
using PackCare.Core.Packs;

namespace PackCare.Store.Tables;

/// <summary>Diary entries.</summary>
internal static class DiaryEntries
{
    public static ILookup<long, DiaryEntry> Read(SqliteConnection connection, long? packId) =>
        RowReading.All(
            connection,
            $"""
            SELECT id, pack_id, at_utc, at_offset_min, kind, swollen, damaged, max_celsius, text
            FROM diary_entry WHERE removed = 0 {(packId is null ? "" : "AND pack_id = $pack")} ORDER BY at_utc, id
            """,
            row => new { PackId = row.GetInt64(1), Entry = Read(row) },
            packId is null ? [] : [("$pack", packId)]).ToLookup(row => row.PackId, row => row.Entry);

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

    private static DiaryEntry Read(SqliteDataReader row) => new(
        row.GetInt64(0),
        Instant.Parse(row.GetString(2), row.GetInt64(3)),
        Words.EntryKind.Parse(row.GetString(4)),
        row.GetInt64(5) != 0,
        row.GetInt64(6) != 0,
        row.NullableDouble(7),
        row.NullableText(8));
}
