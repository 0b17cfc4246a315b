using Microsoft.Data.Sqlite;
using PackCare.Core.Samples;
using PackCare.Core.Sessions;
using PackCare.Store.Exchange;

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
        long id = Add(null, fileId, ordinal, session.PackId, log.PackHint, log.Started, log.TimeQuality, log.FirstLine, log.LastLine);
        _blocks.Add(id, log.Samples);
        _summaries.Add(id, session.Summary);
        return id;
    }

    /// <summary>Adds a session of an export under the number that it had.</summary>
    public void Add(SessionLine line, SampleSeries samples)
    {
        Add(line.Id, line.FileId, line.Ordinal, line.PackId, line.PackHint, line.Started, line.TimeQuality, line.FirstLine, line.LastLine);
        _blocks.Add(line.Id, samples);
        if (line.Summary is not null)
        {
            _summaries.Add(line.Id, line.Summary);
        }
    }

    private long Add(
        long? number,
        long fileId,
        int ordinal,
        long? packId,
        string? packHint,
        DateTimeOffset started,
        TimeQuality timeQuality,
        int firstLine,
        int lastLine) => _session.Run(
            number,
            fileId,
            ordinal,
            packId,
            packHint,
            Instant.Utc(started),
            Instant.OffsetMinutes(started),
            Words.TimeQuality.Of(timeQuality),
            firstLine,
            lastLine);

    public void Dispose()
    {
        _session.Dispose();
        _blocks.Dispose();
        _summaries.Dispose();
    }
}
