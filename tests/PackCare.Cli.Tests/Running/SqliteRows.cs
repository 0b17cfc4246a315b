using Microsoft.Data.Sqlite;

namespace PackCare.Cli.Tests.Running;

/// <summary>Looks into a history from outside, as any SQLite tool could.</summary>
public static class SqliteRows
{
    /// <summary>The first column of every row, as text.</summary>
    public static IReadOnlyList<string> Read(string path, string query)
    {
        using var connection = new SqliteConnection($"Data Source={path};Pooling=False");
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = query;
        using SqliteDataReader reader = command.ExecuteReader();
        var rows = new List<string>();
        while (reader.Read())
        {
            rows.Add(reader.GetString(0));
        }

        return rows;
    }
}
