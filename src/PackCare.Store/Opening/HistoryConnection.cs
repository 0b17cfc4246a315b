using Microsoft.Data.Sqlite;

namespace PackCare.Store.Opening;

/// <summary>A connection whose commands belong to its transaction and do not wait for ever, whoever made them.</summary>
/// <param name="connectionString">As the driver takes it.</param>
internal sealed class HistoryConnection(string connectionString) : SqliteConnection(connectionString)
{
    /// <inheritdoc/>
    public override SqliteCommand CreateCommand() => new HistoryCommand { Connection = this, CommandTimeout = DefaultTimeout, Transaction = Transaction };
}
