using Microsoft.Data.Sqlite;

namespace PackCare.Store.Tables;

/// <summary>Columns that may be NULL.</summary>
internal static class RowReading
{
    public static double? NullableDouble(this SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetDouble(column);

    public static long? NullableLong(this SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetInt64(column);

    public static string? NullableText(this SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetString(column);
}
