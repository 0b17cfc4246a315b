using Microsoft.Data.Sqlite;
using PackCare.Store.Opening;

namespace PackCare.Store.Tables;

/// <summary>Gives up for good what was taken back.</summary>
internal static class Compaction
{
    public static void Discard(SqliteConnection connection) => Script.Run(
        connection,
        """
        DELETE FROM file WHERE removed = 1;
        DELETE FROM spot_check WHERE removed = 1;
        DELETE FROM diary_entry WHERE removed = 1;
        DELETE FROM retirement WHERE removed = 1;
        DELETE FROM pack WHERE removed = 1;
        DELETE FROM change WHERE undone = 1;
        DELETE FROM change WHERE kind = 'assignment' AND subject_id NOT IN (SELECT id FROM session);
        """);
}
