using Microsoft.Data.Sqlite;

namespace PackCare.Store.Tables;

/// <summary>A prepared INSERT that is run many times with values in the order of its columns.</summary>
internal sealed class Insertion : IDisposable
{
    private readonly SqliteConnection _connection;
    private readonly SqliteCommand _command;

    public Insertion(SqliteConnection connection, string table, IReadOnlyList<string> columns, string onConflict = "")
    {
        _connection = connection;
        _command = connection.CreateCommand();
        _command.CommandText =
            $"INSERT {onConflict} INTO {table} ({string.Join(", ", columns)}) VALUES ({string.Join(", ", columns.Select(column => "$" + column))})";
        foreach (string column in columns)
        {
            _command.Parameters.Add(new SqliteParameter { ParameterName = "$" + column });
        }
    }

    /// <summary>Inserts one row and returns its number, where its table has numbers.</summary>
    /// <remarks>Not by RETURNING: the driver does not see an error that SQLite finds after the row was returned.</remarks>
    public long Run(params ReadOnlySpan<object?> values)
    {
        for (int i = 0; i < values.Length; i++)
        {
            _command.Parameters[i].Value = values[i] ?? DBNull.Value;
        }

        _command.ExecuteNonQuery();
        return SQLitePCL.raw.sqlite3_last_insert_rowid(_connection.Handle);
    }

    /// <summary>Inserts a row of doubtful origin; what the structure refuses is passed over, since it is no row that was ever stored.</summary>
    public void TryRun(object?[] values)
    {
        try
        {
            Run(values);
        }
        catch (SqliteException error) when (error.SqliteErrorCode == SQLitePCL.raw.SQLITE_CONSTRAINT)
        {
        }
    }

    public void Dispose() => _command.Dispose();
}
