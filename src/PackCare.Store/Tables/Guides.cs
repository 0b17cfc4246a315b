using Microsoft.Data.Sqlite;

namespace PackCare.Store.Tables;

/// <summary>Reading guides.</summary>
internal static class Guides
{
    public static List<StoredGuide> All(SqliteConnection connection) =>
        RowReading.All(connection, "SELECT name, content FROM reading_guide ORDER BY name", row => new StoredGuide(row.GetString(0), row.GetString(1)));

    public static void Keep(SqliteConnection connection, StoredGuide guide)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "INSERT INTO reading_guide (name, content) VALUES ($name, $content) ON CONFLICT (name) DO UPDATE SET content = excluded.content";
        command.Parameters.AddWithValue("$name", guide.Name);
        command.Parameters.AddWithValue("$content", guide.Content);
        command.ExecuteNonQuery();
    }

    public static bool Remove(SqliteConnection connection, string name)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "DELETE FROM reading_guide WHERE name = $name";
        command.Parameters.AddWithValue("$name", name);
        return command.ExecuteNonQuery() > 0;
    }
}
