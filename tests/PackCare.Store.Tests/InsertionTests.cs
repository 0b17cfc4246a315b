using Microsoft.Data.Sqlite;
using PackCare.Store.Opening;
using PackCare.Store.Tables;

namespace PackCare.Store.Tests;

/// <summary>The driver lets some errors go unseen; these hold us to ways that see them.</summary>
public sealed class InsertionTests : IDisposable
{
    private readonly SqliteConnection _connection = new("Data Source=:memory:;Foreign Keys=True");

    public InsertionTests()
    {
        _connection.Open();
        Script.Run(_connection, "CREATE TABLE parent (id INTEGER PRIMARY KEY) STRICT; CREATE TABLE child (id INTEGER PRIMARY KEY, parent_id INTEGER NOT NULL REFERENCES parent (id)) STRICT");
    }

    public void Dispose() => _connection.Dispose();

    [Fact]
    public void A_row_that_refers_to_nothing_is_an_error()
    {
        using var insertion = new Insertion(_connection, "child", ["id", "parent_id"]);

        Assert.Throws<SqliteException>(() => insertion.Run(null, 12));
    }

    [Fact]
    public void The_number_of_a_row_is_returned()
    {
        using var insertion = new Insertion(_connection, "parent", ["id"]);

        Assert.Equal(7, insertion.Run(7));
        Assert.Equal(8, insertion.Run([null]));
    }

    [Fact]
    public void An_error_late_in_a_script_is_an_error() => Assert.Throws<SqliteException>(() => Script.Run(
        _connection,
        """
        ALTER TABLE child ADD COLUMN flag INTEGER NOT NULL DEFAULT 0 CHECK (flag IN (0, 1));
        SELECT 1;
        CREATE TABLE parent (already INTEGER);
        """));
}
