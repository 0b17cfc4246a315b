using Microsoft.Data.Sqlite;

namespace PackCare.Store.Tables;

/// <summary>A prepared INSERT that is run many times with values in the order of its columns.</summary>
internal sealed class Insertion : IDisposable
{
    private readonly SqliteCommand _command;

    public Insertion(SqliteConnection connection, string table, IReadOnlyList<string> columns)
    {
        _command = connection.CreateCommand();
        _command.CommandText =
            $"INSERT INTO {table} ({string.Join(", ", columns)}) VALUES ({string.Join(", ", columns.Select(column => "$" + column))}) RETURNING {columns[0]}";
        foreach (string column in columns)
        {
            _command.Parameters.Add(new SqliteParameter { ParameterName = "$" + column });
        }
    }

    /// <summary>Inserts one row and returns the first column of what is now stored.</summary>
    public object Run(params ReadOnlySpan<object?> values)
    {
        for (int i = 0; i < values.Length; i++)
        {
            _command.Parameters[i].Value = values[i] ?? DBNull.Value;
        }

        return _command.ExecuteScalar()!;
    }

    public void Dispose() => _command.Dispose();
}
