using System.Runtime.CompilerServices;
using Microsoft.Data.Sqlite;
using SQLitePCL;
using static SQLitePCL.raw;

namespace PackCare.Store.Opening;

/// <summary>The numbers in a file's header, read through SQLite itself: every start of the program does, before anything else.</summary>
internal static class Header
{
    // The driver loads SQLite when it is first touched.
    static Header() => RuntimeHelpers.RunClassConstructor(typeof(SqliteConnection).TypeHandle);

    /// <summary>Reads them.</summary>
    /// <param name="uri">The file as an address for SQLite.</param>
    /// <returns>SQLite's result, <c>SQLITE_OK</c> with the numbers.</returns>
    public static (int Code, long Application, long Version) Read(string uri)
    {
        int code = sqlite3_open_v2(uri, out sqlite3 file, SQLITE_OPEN_READONLY | SQLITE_OPEN_URI, null);
        using (file)
        {
            return code == SQLITE_OK && Pragma(file, "PRAGMA application_id", out long application, out code) && Pragma(file, "PRAGMA user_version", out long version, out code)
                ? (SQLITE_OK, application, version)
                : (file.IsInvalid ? code : sqlite3_extended_errcode(file), 0, 0);
        }
    }

    private static bool Pragma(sqlite3 file, string sql, out long value, out int code)
    {
        value = 0;
        code = sqlite3_prepare_v2(file, sql, out sqlite3_stmt statement);
        using (statement)
        {
            if (code != SQLITE_OK)
            {
                return false;
            }

            code = sqlite3_step(statement);
            value = code == SQLITE_ROW ? sqlite3_column_int64(statement, 0) : 0;
            return code == SQLITE_ROW;
        }
    }
}
