using Microsoft.Data.Sqlite;
using PackCare.Core.Samples;
using PackCare.Store.Tables;

namespace PackCare.Store.Health;

/// <summary>What the blocks of one session should be, by its channel of time, against what they are.</summary>
internal sealed class SessionBlocks
{
    private const int MostCells = 24;

    private readonly List<Found> _found;
    private readonly long _summarisedCells;

    private SessionBlocks(long sessionId, List<Found> found, long summarisedCells)
    {
        SessionId = sessionId;
        _found = found;
        _summarisedCells = summarisedCells;
        List<Found> time = [.. found.Where(block => block.Key == ChannelKey.Time)];
        TimeIsWhole = time.Count > 0 && time.Select((block, i) => block.Whole && block.Ordinal == i + 1).All(whole => whole);
        Counts = [.. time.Select(block => block.Count)];
        Rows = Counts.Sum();
    }

    public long SessionId { get; }

    public bool TimeIsWhole { get; }

    /// <summary>How many values each block of a channel has.</summary>
    public IReadOnlyList<int> Counts { get; }

    public long Rows { get; }

    /// <summary>Blocks that are not what was stored or do not belong.</summary>
    public IEnumerable<Found> Bad => _found.Where(block => !Fits(block));

    /// <summary>Places that have no good block.</summary>
    public IEnumerable<(ChannelKey Key, int Ordinal)> Holes
    {
        get
        {
            HashSet<(ChannelKey, int)> good = [.. _found.Where(Fits).Select(block => (block.Key, block.Ordinal))];
            int cells = good.Select(block => block.Item1).Where(key => key.Kind == ChannelKind.CellVoltage).Select(key => key.Index).DefaultIfEmpty().Max();
            cells = (int)Math.Clamp(_summarisedCells, cells, Math.Max(cells, MostCells));
            return _found.Where(block => IsPossible(block.Key, cells)).Select(block => block.Key)
                .Concat(Enumerable.Range(1, cells).Select(ChannelKey.Cell))
                .Distinct()
                .SelectMany(key => Enumerable.Range(1, Counts.Count).Select(ordinal => (key, ordinal)))
                .Where(place => !good.Contains(place));
        }
    }

    /// <summary>Reads the blocks of every session, one session after the other.</summary>
    public static IEnumerable<SessionBlocks> All(SqliteConnection connection)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "SELECT id, session_id, kind, idx, ordinal, count, encoded, checksum FROM sample_block ORDER BY session_id, kind, idx, ordinal";
        Dictionary<long, long> cells = RowReading
            .All(connection, "SELECT session_id, count(*) FROM cell_summary GROUP BY session_id", row => (Session: row.GetInt64(0), Cells: row.GetInt64(1)))
            .ToDictionary(row => row.Session, row => row.Cells);
        using SqliteDataReader row = command.ExecuteReader();
        var scaled = new long[Channel.BlockRows];
        long session = 0;
        List<Found> found = [];
        while (row.Read())
        {
            if (row.GetInt64(1) != session && found.Count > 0)
            {
                yield return new SessionBlocks(session, found, cells.GetValueOrDefault(session));
                found = [];
            }

            session = row.GetInt64(1);
            byte[] encoded = row.GetFieldValue<byte[]>(6);
            int count = row.GetInt32(5);
            var key = new ChannelKey((ChannelKind)row.GetInt32(2), row.GetInt32(3));
            found.Add(new Found(
                row.GetInt64(0),
                key,
                row.GetInt32(4),
                count,
                SampleBlocks.Checksum(session, key, row.GetInt64(4), count, encoded).AsSpan().SequenceEqual(row.GetFieldValue<byte[]>(7)) && Decodes(new SampleBlock(count, encoded), scaled)));
        }

        if (found.Count > 0)
        {
            yield return new SessionBlocks(session, found, cells.GetValueOrDefault(session));
        }
    }

    private static bool Decodes(SampleBlock block, long[] scaled)
    {
        try
        {
            BlockCodec.Decode(block, scaled);
            return true;
        }
        catch (InvalidDataException)
        {
            return false;
        }
    }

    // A damaged block may not even say truly what it measured.
    private static bool IsPossible(ChannelKey key, int cells) => key.Kind switch
    {
        ChannelKind.CellVoltage or ChannelKind.CellResistance => key.Index >= 1 && key.Index <= cells,
        ChannelKind.Temperature => key.Index is >= 1 and <= MostCells,
        _ => Enum.IsDefined(key.Kind) && key.Index == 0,
    };

    private bool Fits(Found block) =>
        block.Whole && block.Ordinal >= 1 && block.Ordinal <= Counts.Count && block.Count == Counts[block.Ordinal - 1];

    /// <summary>A block as it was found.</summary>
    public sealed record Found(long Id, ChannelKey Key, int Ordinal, int Count, bool Whole);
}
