using Microsoft.Data.Sqlite;

namespace PackCare.Store.Tables;

/// <summary>Results kept beside the state of the pack that they rest on.</summary>
internal static class Digests
{
    public static void Keep(SqliteConnection connection, string name, IEnumerable<(long PackId, long Revision, string Content)> digests)
    {
        using var insertion = new Insertion(connection, "digest", ["pack_id", "name", "revision", "content"], "OR REPLACE");
        foreach ((long packId, long revision, string content) in digests)
        {
            insertion.Run(packId, name, revision, content);
        }
    }
}
