using System.Globalization;
using Microsoft.Data.Sqlite;
using PackCare.Store.Schema;
using static SQLitePCL.raw;

namespace PackCare.Store.Opening;

/// <summary>
/// Opens a history file. What turns out to be another kind of file, or a later version, is left without one byte changed.
/// </summary>
internal static class Opener
{
    public static readonly TimeSpan UsualPatience = TimeSpan.FromSeconds(10);

    private const int NoCheckpointOnClose = 1006;

    public static Database Open(string path, bool create, TimeSpan patience)
    {
        string full = FullPath(path);
        if (Directory.Exists(full))
        {
            throw Faults.IsAFolder(full);
        }

        if (File.Exists(full))
        {
            Recognise(full);
        }
        else if (create)
        {
            MakeFolder(full);
        }
        else
        {
            throw Faults.Missing(full);
        }

        return Database.Guard(full, () => Connect(full, create, patience));
    }

    /// <summary>Opens a file for nothing but reading as it is, of whatever version; a backup is never changed.</summary>
    public static SqliteConnection OpenUnchanged(string path)
    {
        if (Directory.Exists(path))
        {
            throw Faults.IsAFolder(path);
        }

        if (!File.Exists(path))
        {
            throw Faults.Missing(path);
        }

        Recognise(path);
        if (new FileInfo(path + "-wal") is not { Exists: true, Length: > 0 })
        {
            return Database.Guard(path, () => Immutable(path));
        }

        SqliteConnection connection = Connection(path, SqliteOpenMode.ReadOnly);
        return Database.Guard(path, () =>
        {
            connection.Open();
            return connection;
        });
    }

    /// <summary>
    /// Looks at the file header alone. Done through SQLite because a file that is opened and closed by other means
    /// takes away the locks that this process holds on it; as an immutable file, so that nothing is recovered,
    /// checkpointed or put beside it.
    /// </summary>
    public static void Recognise(string path)
    {
        if (new FileInfo(path).Length == 0)
        {
            return;
        }

        (int code, long application, long version) = Header.Read(ImmutableUri(path));
        if (code == SQLITE_OK)
        {
            if (application != Migrations.ApplicationId)
            {
                throw Faults.NotAHistory(path);
            }

            if (version > Migrations.Latest)
            {
                throw Faults.Newer(path, version, Migrations.Latest);
            }
        }
        else if ((code & 0xFF) != SQLITE_CORRUPT)
        {
            throw Faults.From(new SqliteException("the header cannot be read", code & 0xFF, code), path);
        }

        // Else another program may be writing at this moment; the proper open sees the whole state and decides.
    }

    /// <summary>The full path of the file itself, where the path is a link to it: what is kept beside a history stands beside the file.</summary>
    public static string FullPath(string path)
    {
        string full = Path.GetFullPath(path);
        try
        {
            return File.ResolveLinkTarget(full, returnFinalTarget: true)?.FullName ?? full;
        }
        catch (IOException)
        {
            // Nothing there, or links in a circle: opening it says so.
            return full;
        }
    }

    public static void MakeFolder(string path)
    {
        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException)
        {
            throw Faults.NotWritable(path, error);
        }
    }

    private static Database Connect(string path, bool create, TimeSpan patience)
    {
        SqliteConnection connection = Connection(path, create ? SqliteOpenMode.ReadWriteCreate : SqliteOpenMode.ReadWrite);
        try
        {
            connection.Open();
            HistoryException? unwritable = sqlite3_db_readonly(connection.Handle, "main") == 1 ? Faults.NotWritable(path) : null;
            try
            {
                Prepare(connection, patience);
                BringUpToDate(path, connection, create, unwritable);
            }
            catch (SqliteException error) when (error.SqliteErrorCode is SQLITE_CANTOPEN or SQLITE_READONLY)
            {
                // The folder takes no helper files. Without a write-ahead log the file alone is the whole history.
                connection.Dispose();
                if (new FileInfo(path + "-wal") is { Exists: true, Length: > 0 })
                {
                    throw Faults.CutOffAndNotWritable(path, error);
                }

                unwritable = Faults.NotWritable(path, error);
                connection = Immutable(path);
                BringUpToDate(path, connection, create: false, unwritable);
            }
            catch (SqliteException error) when (Faults.IsFull(error))
            {
                // No room for the helper files. Nobody else can use the file then, and the one who has it to itself needs none.
                connection.Dispose();
                unwritable = Faults.From(error, path);
                connection = Connection(path, SqliteOpenMode.ReadWrite);
                connection.Open();
                Script.Run(connection, "PRAGMA locking_mode = EXCLUSIVE; PRAGMA query_only = ON; PRAGMA temp_store = MEMORY");
                Prepare(connection, patience);
                BringUpToDate(path, connection, create: false, unwritable);
            }

            return new Database(path, connection, unwritable);
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    private static void BringUpToDate(string path, SqliteConnection connection, bool create, HistoryException? unwritable)
    {
        if (Pragma(connection, "page_count") == 0)
        {
            if (!create)
            {
                throw Faults.Missing(path);
            }
        }
        else if (Pragma(connection, "application_id") != Migrations.ApplicationId)
        {
            throw Faults.NotAHistory(path);
        }

        long version = Pragma(connection, "user_version");
        if (version > Migrations.Latest)
        {
            // Closing would otherwise fold a left-over write-ahead log into the file.
            _ = sqlite3_db_config(connection.Handle, NoCheckpointOnClose, 1, out _);
            throw Faults.Newer(path, version, Migrations.Latest);
        }

        if (version < Migrations.Latest)
        {
            if (unwritable is not null)
            {
                throw unwritable.Fault == HistoryFault.DiskFull ? unwritable : Faults.OldAndNotWritable(path);
            }

            Migrations.Apply(connection, () => KeepAside(path, version));
        }

        if (unwritable is null)
        {
            UseWriteAheadLog(connection);
        }
    }

    // The write lock is held meanwhile, so that nothing is stored between the copy and the change.
    private static void KeepAside(string path, long version)
    {
        if (version == 0)
        {
            return;
        }

        using SqliteConnection source = Connection(path, SqliteOpenMode.ReadOnly);
        source.Open();
        Copies.Write(source, string.Create(CultureInfo.InvariantCulture, $"{path}.version-{version}"));
    }

    // A file is made with a rollback journal, so that it exists wholly or not at all, and kept with a write-ahead log.
    // Where another program holds it at this moment, or the file system cannot share memory, it stays as it is: slower, as safe.
    private static void UseWriteAheadLog(SqliteConnection connection)
    {
        try
        {
            using SqliteCommand command = connection.CreateCommand();
            command.CommandText = "PRAGMA journal_mode";
            if (command.ExecuteScalar() is not "wal")
            {
                command.CommandText = "PRAGMA journal_mode = WAL";
                command.ExecuteScalar();
            }
        }
        catch (SqliteException error) when (error.SqliteErrorCode is SQLITE_BUSY or SQLITE_LOCKED)
        {
        }
    }

    private static SqliteConnection Immutable(string path)
    {
        SqliteConnection connection = Connection(ImmutableUri(path), SqliteOpenMode.ReadOnly);
        try
        {
            connection.Open();
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    private static string ImmutableUri(string path)
    {
        string escaped = string.Join('/', path.Replace('\\', '/').Split('/').Select(Uri.EscapeDataString));
        return $"file:{(escaped.StartsWith('/') ? "" : "/")}{escaped}?immutable=1";
    }

    // The driver's own waiting ends after a second because SQLite does the waiting.
    // Written out by hand, since the builder's own way takes a regular expression and many milliseconds.
    public static SqliteConnection Connection(string source, SqliteOpenMode mode) => new HistoryConnection(
        $"Data Source=\"{source.Replace("\"", "\"\"", StringComparison.Ordinal)}\";Mode={ModeName(mode)};Pooling=False;Foreign Keys=True;Default Timeout=1");

    private static string ModeName(SqliteOpenMode mode) => mode switch
    {
        SqliteOpenMode.ReadOnly => "ReadOnly",
        SqliteOpenMode.ReadWrite => "ReadWrite",
        SqliteOpenMode.ReadWriteCreate => "ReadWriteCreate",
        _ => throw new ArgumentOutOfRangeException(nameof(mode)),
    };

    // FULL, and the stronger flush where the system has one: what is reported as stored survives a power cut.
    private static void Prepare(SqliteConnection connection, TimeSpan patience) => Script.Run(
        connection,
        string.Create(
            CultureInfo.InvariantCulture,
            $"""
            PRAGMA busy_timeout = {(int)patience.TotalMilliseconds};
            PRAGMA synchronous = FULL;
            PRAGMA fullfsync = ON;
            PRAGMA checkpoint_fullfsync = ON;
            PRAGMA trusted_schema = OFF;
            """));

    public static long Pragma(SqliteConnection connection, string name)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = $"PRAGMA {name}";
        return (long)command.ExecuteScalar()!;
    }
}
