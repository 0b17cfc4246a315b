using Microsoft.Data.Sqlite;

namespace PackCare.Store.Tests;

public sealed class SampleBlockDamageTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData("UPDATE sample_block SET encoded = zeroblob(length(encoded)) WHERE kind = 2 AND idx = 2")]
    [InlineData("UPDATE sample_block SET encoded = substr(encoded, 1, length(encoded) - 1) WHERE kind = 3")]
    [InlineData("UPDATE sample_block SET checksum = zeroblob(8) WHERE kind = 0")]
    [InlineData("UPDATE sample_block SET count = count - 1 WHERE kind = 2 AND idx = 1")]
    [InlineData("UPDATE sample_block SET ordinal = 2 WHERE kind = 2 AND idx = 1")]
    [InlineData("DELETE FROM sample_block WHERE kind = 0")]
    [InlineData("DELETE FROM sample_block WHERE kind = 2 AND idx = 1")]
    public void Damage_to_a_block_is_reported_and_never_read_as_samples(string damage)
    {
        string path = _folder.File("history.db");
        using History history = Make.NewHistory(path);
        long hurt = history.AddFile(Make.File("one"), [new NewSession(null, Make.Log(), Make.Summary())]).SessionIds[0];
        Sql.Run(path, damage);
        long whole = history.AddFile(Make.File("two"), [new NewSession(null, Make.Log(), Make.Summary())]).SessionIds[0];

        HistoryException error = Assert.Throws<HistoryException>(() => history.LoadSamples(hurt));

        Assert.Equal(HistoryFault.Damaged, error.Fault);
        Make.AssertSame(Make.Log().Samples, history.LoadSamples(whole));
    }
}

/// <summary>What another program could do to the file.</summary>
internal static class Sql
{
    public static void Run(string path, string sql)
    {
        using SqliteConnection connection = Open(path);
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }

    public static object? Ask(string path, string sql)
    {
        using SqliteConnection connection = Open(path);
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        return command.ExecuteScalar();
    }

    private static SqliteConnection Open(string path)
    {
        var connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = path, Pooling = false, ForeignKeys = false }.ToString());
        connection.Open();
        return connection;
    }
}
