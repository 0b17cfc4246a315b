using Dapper;
using Microsoft.Data.Sqlite;
using PackCare.Core.Sessions;

namespace PackCare.Store.Tables;

/// <summary>Writes summaries.</summary>
internal sealed class SummaryWriter(SqliteConnection connection) : IDisposable
{
    private readonly Insertion _session = new(connection, "session_summary", SummaryColumns.Session);
    private readonly Insertion _cell = new(connection, "cell_summary", SummaryColumns.Cell);

    public void Add(long sessionId, SessionSummary summary)
    {
        _session.Run(SummaryColumns.Values(sessionId, summary));
        foreach (CellSummary cell in summary.Cells)
        {
            _cell.Run(SummaryColumns.Values(sessionId, cell));
        }
    }

    public void Replace(long sessionId, SessionSummary summary)
    {
        connection.Execute("DELETE FROM session_summary WHERE session_id = @sessionId", new { sessionId });
        Add(sessionId, summary);
    }

    public void Dispose()
    {
        _session.Dispose();
        _cell.Dispose();
    }
}
