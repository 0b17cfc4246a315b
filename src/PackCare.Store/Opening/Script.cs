using Microsoft.Data.Sqlite;
using static SQLitePCL.raw;

namespace PackCare.Store.Opening;

/// <summary>
/// Runs several statements. Through SQLite itself, because the driver lets go unseen an error in a statement that comes
/// after one with result columns (and even ALTER TABLE can be such a one).
/// </summary>
internal static class Script
{
    /// <exception cref="SqliteException">A statement failed; those after it were not run.</exception>
    public static void Run(SqliteConnection connection, string sql) =>
        SqliteException.ThrowExceptionForRC(sqlite3_exec(connection.Handle, sql), connection.Handle);
}
