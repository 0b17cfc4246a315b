using System.Data.Common;
using Microsoft.Data.Sqlite;

namespace PackCare.Store.Opening;

/// <summary>
/// A command that keeps the transaction and the patience that its connection gave it: the object mapper sets both to none for every
/// statement, which the driver takes for outside the transaction, and for ever.
/// </summary>
internal sealed class HistoryCommand : SqliteCommand
{
    /// <inheritdoc/>
    public override int CommandTimeout
    {
        get => base.CommandTimeout;
        set => base.CommandTimeout = value == 0 ? base.CommandTimeout : value;
    }

    /// <inheritdoc/>
    protected override DbTransaction? DbTransaction
    {
        get => base.DbTransaction;
        set => base.DbTransaction = value ?? base.DbTransaction;
    }
}
