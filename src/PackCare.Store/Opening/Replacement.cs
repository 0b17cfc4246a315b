using Dapper;
using Microsoft.Data.Sqlite;
using PackCare.Store.Schema;
using static SQLitePCL.raw;

namespace PackCare.Store.Opening;

/// <summary>Replaces a history file by another.</summary>
internal static class Replacement
{
    /// <summary>Puts a finished part in the place of a history, which is kept under another name.</summary>
    /// <exception cref="HistoryException">Another program has the history open; the part is removed.</exception>
    public static void Put(string part, string path, string aside)
    {
        try
        {
            Settle(path);
            Copies.Exchange(part, path, aside);
        }
        catch
        {
            Copies.Remove(part);
            throw;
        }
    }

    /// <summary>Folds the write-ahead log into the file, so that the file alone is the whole history, and makes sure that no program has it open.</summary>
    /// <exception cref="HistoryException">Another program has it open.</exception>
    private static void Settle(string path)
    {
        try
        {
            using SqliteConnection connection = Opener.Connection(path, SqliteOpenMode.ReadWrite);
            connection.Open();
            if (Opener.Pragma(connection, "application_id") == Migrations.ApplicationId)
            {
                connection.Execute("PRAGMA journal_mode = DELETE");
            }
        }
        catch (SqliteException error) when (error.SqliteErrorCode is SQLITE_BUSY or SQLITE_LOCKED)
        {
            throw Faults.From(error, path);
        }
        catch (SqliteException)
        {
            // Too damaged to be put in order; it is set aside together with its log.
        }
    }
}
