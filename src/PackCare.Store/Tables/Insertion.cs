using Microsoft.Data.Sqlite;
using SQLitePCL;
using static SQLitePCL.raw;

namespace PackCare.Store.Tables;

/// <summary>
/// A prepared INSERT that is run many times with values in the order of its columns. Through SQLite itself: the driver looks each
/// parameter up by its name again for each row, which takes longer than storing a block of samples.
/// </summary>
internal sealed class Insertion : IDisposable
{
    private readonly SqliteConnection _connection;
    private readonly sqlite3_stmt _statement;

    /// <exception cref="SqliteException">There is no such table or column.</exception>
    public Insertion(SqliteConnection connection, string table, IReadOnlyList<string> columns, string onConflict = "")
    {
        _connection = connection;
        string sql = $"INSERT {onConflict} INTO {table} ({string.Join(", ", columns)}) VALUES ({string.Join(", ", columns.Select(_ => "?"))})";
        Check(sqlite3_prepare_v2(connection.Handle, sql, out _statement));
    }

    /// <summary>Inserts one row and returns its number, where its table has numbers.</summary>
    /// <param name="values">Whole numbers, fractions, text, bytes, or null, one for each column.</param>
    /// <exception cref="SqliteException">The structure refuses the row, or the file cannot be written.</exception>
    public long Run(params ReadOnlySpan<object?> values)
    {
        for (int i = 0; i < values.Length; i++)
        {
            Check(Bind(i + 1, values[i]));
        }

        try
        {
            Check(sqlite3_step(_statement));
        }
        finally
        {
            sqlite3_reset(_statement);
        }

        return sqlite3_last_insert_rowid(_connection.Handle);
    }

    /// <summary>Inserts a row of doubtful origin; what the structure refuses is passed over, since it is no row that was ever stored.</summary>
    public void TryRun(object?[] values)
    {
        try
        {
            Run(values);
        }
        catch (SqliteException error) when (error.SqliteErrorCode == SQLITE_CONSTRAINT)
        {
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _statement.Dispose();

    private int Bind(int column, object? value) => value switch
    {
        null or DBNull => sqlite3_bind_null(_statement, column),
        long number => sqlite3_bind_int64(_statement, column, number),
        int number => sqlite3_bind_int64(_statement, column, number),

        // SQLite would store it as no value at all.
        double.NaN => throw new InvalidOperationException("A value that is no number cannot be stored."),
        double number => sqlite3_bind_double(_statement, column, number),
        string text => sqlite3_bind_text(_statement, column, text),
        byte[] bytes => sqlite3_bind_blob(_statement, column, bytes),
        ReadOnlyMemory<byte> bytes => sqlite3_bind_blob(_statement, column, bytes.Span),
        _ => throw new ArgumentException($"A {value.GetType().Name} cannot be stored.", nameof(value)),
    };

    private void Check(int code) => SqliteException.ThrowExceptionForRC(code, _connection.Handle);
}
