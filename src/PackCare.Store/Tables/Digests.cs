using Microsoft.Data.Sqlite;

namespace PackCare.Store.Tables;

/// <summary>Results kept beside the state of the pack that they rest on.</summary>
internal static class Digests
{
    public static IReadOnlyDictionary<long, string> Read(SqliteConnection connection, string name) =>
        RowReading.All(
            connection,
            """
            SELECT d.pack_id, d.content FROM digest d JOIN pack p ON p.id = d.pack_id AND p.revision = d.revision
            WHERE d.name = $name AND p.removed = 0
            """,
            row => (PackId: row.GetInt64(0), Content: row.GetString(1)),
            ("$name", name)).ToDictionary(row => row.PackId, row => row.Content);

    public static void Keep(SqliteConnection connection, string name, IEnumerable<(long PackId, long Revision, string Content)> digests)
    {
        using var insertion = new Insertion(connection, "digest", ["pack_id", "name", "revision", "content"], "OR REPLACE");
        foreach ((long packId, long revision, string content) in digests)
        {
            insertion.Run(packId, name, revision, content);
        }
    }
}
