using Dapper;
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
        foreach ((long packId, long revision, string content) in digests)
        {
            Packs.Demand(connection, packId);
            connection.Execute(
                """
                INSERT INTO digest (pack_id, name, revision, content) VALUES (@packId, @name, @revision, @content)
                ON CONFLICT DO UPDATE SET revision = excluded.revision, content = excluded.content
                """,
                new { packId, name, revision, content });
        }
    }
}
