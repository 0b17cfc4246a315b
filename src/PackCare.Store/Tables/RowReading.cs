using Microsoft.Data.Sqlite;

namespace PackCare.Store.Tables;

/// <summary>
/// Reading without the object mapper, whose code is made anew by every process: for the few statements that
/// every start of the program runs, and for those that read millions of rows.
/// </summary>
internal static class RowReading
{
    public static List<T> All<T>(
        SqliteConnection connection,
        string sql,
        Func<SqliteDataReader, T> read,
        params ReadOnlySpan<(string Name, object? Value)> parameters)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        foreach ((string name, object? value) in parameters)
        {
            command.Parameters.AddWithValue(name, value ?? DBNull.Value);
        }

        List<T> rows = [];
        using SqliteDataReader row = command.ExecuteReader();
        while (row.Read())
        {
            rows.Add(read(row));
        }

        return rows;
    }

    public static double? NullableDouble(this SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetDouble(column);

    public static long? NullableLong(this SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetInt64(column);

    public static string? NullableText(this SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetString(column);
}
