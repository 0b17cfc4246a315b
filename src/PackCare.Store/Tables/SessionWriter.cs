using Microsoft.Data.Sqlite;
using PackCare.Core.Sessions;

namespace PackCare.Store.Tables;

/// <summary>Writes sessions with their samples and summaries.</summary>
internal sealed class SessionWriter(SqliteConnection connection) : IDisposable
{
    private readonly Insertion _session = new(
        connection,
        "session",
        ["id", "file_id", "ordinal", "pack_id", "pack_hint", "started_utc", "started_offset_min", "time_quality", "first_line", "last_line"]);

    private readonly SampleBlocks _blocks = new(connection);
    private readonly SummaryWriter _summaries = new(connection);

    public long Add(long fileId, int ordinal, NewSession session)
    {
        SessionLog log = session.Log;
        long id = _session.Run(
            null,
            fileId,
            ordinal,
            session.PackId,
            log.PackHint,
            Instant.Utc(log.Started),
            Instant.OffsetMinutes(log.Started),
            Words.TimeQuality.Of(log.TimeQuality),
            log.FirstLine,
            log.LastLine);
        _blocks.Add(id, log.Samples);
        _summaries.Add(id, session.Summary);
        return id;
    }

    public void Dispose()
    {
        _session.Dispose();
        _blocks.Dispose();
        _summaries.Dispose();
    }
}
