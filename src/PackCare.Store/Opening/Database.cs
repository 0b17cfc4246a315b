using System.Data;
using System.Globalization;
using System.Text.Json;
using Microsoft.Data.Sqlite;

namespace PackCare.Store.Opening;

/// <summary>An open connection, with every piece of work inside a transaction and every error turned into a <see cref="HistoryException"/>.</summary>
/// <param name="path">The file.</param>
/// <param name="connection">The connection.</param>
/// <param name="unwritable">Why the file can only be read, or null.</param>
internal sealed class Database(string path, SqliteConnection connection, HistoryException? unwritable) : IDisposable
{
    private bool _snapshot;

    public string Path { get; } = path;

    public bool ReadOnly => unwritable is not null;

    public SqliteConnection Connection { get; } = connection;

    /// <summary>Reads from one consistent state, whatever other programs write meanwhile.</summary>
    public T Read<T>(Func<SqliteConnection, T> work) => Guard(() =>
    {
        if (_snapshot)
        {
            return Understand(work);
        }

        using SqliteTransaction snapshot = Connection.BeginTransaction(deferred: true);
        T result = Understand(work);
        snapshot.Commit();
        return result;
    });

    /// <summary>Lets everything that is read inside the work come from the same state.</summary>
    public void Snapshot(Action work) => Guard<object?>(() =>
    {
        using SqliteTransaction snapshot = Connection.BeginTransaction(deferred: true);
        _snapshot = true;
        try
        {
            work();
            snapshot.Commit();
            return null;
        }
        finally
        {
            _snapshot = false;
        }
    });

    /// <summary>Changes all or nothing. The write lock is taken first, so what was read inside is still true at the end.</summary>
    public T Write<T>(Func<SqliteConnection, T> work)
    {
        if (unwritable is not null)
        {
            throw unwritable;
        }

        return Guard(() =>
        {
            using SqliteTransaction change = Connection.BeginTransaction(deferred: false);
            T result = work(Connection);
            change.Commit();
            return result;
        });
    }

    /// <summary>Changes all or nothing.</summary>
    public void Write(Action<SqliteConnection> work) => Write(connection =>
    {
        work(connection);
        return true;
    });

    /// <summary>Changes all or nothing, and waits for no other program.</summary>
    public void WriteAtOnce(Action<SqliteConnection> work)
    {
        long patience = Opener.Pragma(Connection, "busy_timeout");
        Script.Run(Connection, "PRAGMA busy_timeout = 0");
        try
        {
            Write(work);
        }
        finally
        {
            Script.Run(Connection, string.Create(CultureInfo.InvariantCulture, $"PRAGMA busy_timeout = {patience}"));
        }
    }

    /// <summary>Runs work outside a transaction.</summary>
    public T Guard<T>(Func<T> work) => Guard(Path, work);

    // The structure allows no such rows, so a column that is empty or of another type was changed behind SQLite's back.
    private T Understand<T>(Func<SqliteConnection, T> work)
    {
        try
        {
            return work(Connection);
        }
        catch (Exception error) when (error is InvalidOperationException or ArgumentException)
        {
            throw new InvalidDataException("a row holds what was never stored", error);
        }
    }

    public static T Guard<T>(string path, Func<T> work)
    {
        try
        {
            return work();
        }
        catch (SqliteException error)
        {
            throw Faults.From(error, path);
        }
        catch (InvalidDataException error)
        {
            throw Faults.Damaged(path, error.Message.TrimEnd('.'), error);
        }
        catch (Exception error) when (error is InvalidCastException or OverflowException or DataException or JsonException)
        {
            throw Faults.Damaged(path, "a row holds what was never stored", error);
        }
    }

    public void Dispose() => Connection.Dispose();
}
