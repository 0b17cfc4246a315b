using Microsoft.Data.Sqlite;
using static SQLitePCL.raw;

namespace PackCare.Store.Opening;

/// <summary>Turns what SQLite and the system report into one sentence that says what to do.</summary>
internal static class Faults
{
    public static HistoryException Missing(string path) => new(
        HistoryFault.Missing,
        $"There is no history at {path}; enter a pack or import a log to start one, or give the right file.");

    public static HistoryException IsAFolder(string path) => new(
        HistoryFault.NotAHistory,
        $"{path} is a folder; give the history file itself.");

    public static HistoryException NotAHistory(string path, Exception? inner = null) => new(
        HistoryFault.NotAHistory,
        $"{path} is not a history of this program, and was left as it is; give another file.",
        inner);

    public static HistoryException Newer(string path, long found, long known) => new(
        HistoryFault.Newer,
        $"{path} was made by a later version of this program (its structure is number {found}, this version knows {known}) and was left as it is; use that version.");

    public static HistoryException NotWritable(string path, Exception? inner = null) => new(
        HistoryFault.NotWritable,
        $"{path} cannot be written; check the rights on the file and on its folder.",
        inner);

    public static HistoryException OldAndNotWritable(string path) => new(
        HistoryFault.NotWritable,
        $"{path} was made by an earlier version and must be brought up to date, but cannot be written; open it once where it can.");

    public static HistoryException CutOffAndNotWritable(string path, Exception inner) => new(
        HistoryFault.NotWritable,
        $"{path} was not closed properly and cannot be written; open it once where it can, so that it is put in order.",
        inner);

    public static HistoryException Damaged(string path, string what, Exception? inner = null) => new(
        HistoryFault.Damaged,
        $"{path} is damaged ({what}); put a backup in its place or have it examined.",
        inner);

    public static HistoryException Exists(string path) => new(
        HistoryFault.Conflict,
        $"{path} is already there and was left as it is; give another name, or say that it is to be replaced.");

    public static HistoryException NotAnExport(string folder, string why, Exception? inner = null) => new(
        HistoryFault.NotAHistory,
        $"{folder} cannot be taken in ({why}), and nothing was changed; give a folder as it was exported.",
        inner);

    public static HistoryException Conflict(string message) => new(HistoryFault.Conflict, message);

    public static HistoryException From(SqliteException error, string path) => error.SqliteErrorCode switch
    {
        SQLITE_BUSY or SQLITE_LOCKED or SQLITE_PROTOCOL => new HistoryException(
            HistoryFault.Locked,
            $"{path} is in use by another program; try again when that is done.",
            error),
        _ when IsFull(error) => Full(path, error),
        SQLITE_READONLY or SQLITE_PERM or SQLITE_AUTH or SQLITE_CANTOPEN => NotWritable(path, error),
        SQLITE_NOTADB => NotAHistory(path, error),
        SQLITE_CORRUPT => Damaged(path, "SQLite cannot make sense of its pages", error),
        // The statements are fixed, so one that does not fit means that tables or columns are not what they were made.
        SQLITE_ERROR or SQLITE_SCHEMA or SQLITE_MISMATCH => Damaged(path, "its tables are not as they should be", error),
        SQLITE_CONSTRAINT => new HistoryException(
            HistoryFault.Conflict,
            $"What was to be stored in {path} contradicts what is there, and nothing was changed.",
            error),
        SQLITE_NOMEM or SQLITE_TOOBIG => new HistoryException(
            HistoryFault.Failed,
            $"{path} could not be used for want of memory; close other programs or import fewer files at once.",
            error),
        _ => new HistoryException(
            HistoryFault.Failed,
            $"{path} could not be read or written (the system reported error {error.SqliteExtendedErrorCode}); check the disk and try again.",
            error),
    };

    /// <summary>Whether a disk had no room, be it only for what SQLite keeps beside the file.</summary>
    public static bool IsFull(SqliteException error) =>
        error.SqliteErrorCode == SQLITE_FULL || error is { SqliteErrorCode: SQLITE_IOERR, SqliteExtendedErrorCode: SQLITE_IOERR_SHMSIZE };

    public static HistoryException From(IOException error, string path) =>
        new(HistoryFault.Failed, $"{path} could not be read or written ({error.Message}); check the disk and try again.", error);

    private static HistoryException Full(string path, Exception inner) => new(
        HistoryFault.DiskFull,
        $"The disk that holds {path} is full and nothing was changed; free some space and try again.",
        inner);
}
