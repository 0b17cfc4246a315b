using System.Globalization;
using Dapper;
using Microsoft.Data.Sqlite;
using PackCare.Store.Tables;
using static SQLitePCL.raw;

namespace PackCare.Store.Health;

/// <summary>Copies every row that can be read from a file with damaged pages into a new one.</summary>
internal sealed class Salvager(SqliteConnection source, SqliteConnection target)
{
    // Parents before children, for those who watch; references are checked afterwards.
    private static readonly string[] Tables =
    [
        "pack", "retirement", "file", "session", "sample_block", "damaged_block", "session_summary", "cell_summary",
        "spot_check", "spot_check_cell", "diary_entry", "change", "digest", "reading_guide",
    ];

    /// <summary>Copies all tables, and says which rows are known to be lost.</summary>
    public IReadOnlyList<Complaint> Run()
    {
        List<Complaint> losses = [];
        foreach (string table in Tables)
        {
            if (Copy(table) is > 0 and long lost)
            {
                losses.Add(new Complaint(ComplaintKind.Pages, $"{lost} numbers of rows in {table} could not be read and may be lost."));
            }
        }

        return losses;
    }

    public static string[] Columns(SqliteConnection connection, string table) =>
        [.. connection.Query<string>("SELECT name FROM pragma_table_info(@table) ORDER BY cid", new { table })];

    private long Copy(string table)
    {
        string[] columns = Columns(target, table);
        string key = target.ExecuteScalar<string>("SELECT name FROM pragma_table_info(@table) WHERE pk = 1", new { table })!;
        using var insertion = new Insertion(target, table, columns, "OR IGNORE");
        using SqliteCommand range = source.CreateCommand();
        range.CommandText =
            $"SELECT {key}, {string.Join(", ", columns)} FROM {table} NOT INDEXED WHERE {key} BETWEEN $low AND $high ORDER BY {key}";
        range.Parameters.Add("$low", SqliteType.Integer);
        range.Parameters.Add("$high", SqliteType.Integer);

        long lost = 0;
        var open = new Stack<(long Low, long High)>();
        open.Push((0, Highest(table, key)));
        while (open.TryPop(out (long Low, long High) part))
        {
            long? reached = CopyRange(range, insertion, part.Low, part.High, columns.Length);
            if (reached is null)
            {
                continue;
            }

            // The row after the last good one, or the way to it, is damaged: feel for readable rows on either side.
            // A compound key may have been read in part; the rows that are there already are passed over.
            if (part.Low == part.High)
            {
                lost++;
                continue;
            }

            long low = Math.Max(part.Low, reached.Value);
            if (low == part.High)
            {
                open.Push((low, low));
                continue;
            }

            long middle = low + ((part.High - low) / 2);
            open.Push((middle + 1, part.High));
            open.Push((low, middle));
        }

        return lost;
    }

    /// <summary>Copies a range of keys; null when it was read to its end, else the last key reached.</summary>
    private static long? CopyRange(SqliteCommand range, Insertion insertion, long low, long high, int columns)
    {
        range.Parameters[0].Value = low;
        range.Parameters[1].Value = high;
        long reached = low;
        var values = new object?[columns];
        try
        {
            using SqliteDataReader row = range.ExecuteReader();
            while (row.Read())
            {
                long key = row.GetInt64(0);
                for (int i = 0; i < columns; i++)
                {
                    values[i] = row.GetValue(i + 1);
                }

                insertion.TryRun(values);
                reached = key;
            }

            return null;
        }
        catch (SqliteException error) when (error.SqliteErrorCode is SQLITE_CORRUPT or SQLITE_NOTADB or SQLITE_IOERR)
        {
            return reached;
        }
    }

    // Without an upper end, feeling for rows in a damaged tree would go on through all numbers there are.
    private long Highest(string table, string key)
    {
        long bound = 1 + (long.Parse(source.ExecuteScalar<string>("PRAGMA page_size") ?? "4096", CultureInfo.InvariantCulture)
            * source.ExecuteScalar<long>("PRAGMA page_count") / 16);
        try
        {
            return Math.Min(bound * 16, source.ExecuteScalar<long?>($"SELECT max({key}) FROM {table} NOT INDEXED") ?? 0);
        }
        catch (SqliteException)
        {
        }

        try
        {
            return source.ExecuteScalar<long?>("SELECT seq FROM sqlite_sequence WHERE name = @table", new { table }) ?? bound;
        }
        catch (SqliteException)
        {
            return bound;
        }
    }
}
