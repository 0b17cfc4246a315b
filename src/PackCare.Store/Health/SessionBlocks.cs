using Microsoft.Data.Sqlite;
using PackCare.Core.Samples;
using PackCare.Store.Tables;

namespace PackCare.Store.Health;

/// <summary>What the blocks of one session should be, by its channel of time, against what they are.</summary>
internal sealed class SessionBlocks
{
    private readonly List<Found> _found;

    private SessionBlocks(long sessionId, List<Found> found)
    {
        SessionId = sessionId;
        _found = found;
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
            int cells = _found.Where(block => block.Key.Kind == ChannelKind.CellVoltage).Select(block => block.Key.Index).DefaultIfEmpty().Max();
            return _found.Select(block => block.Key)
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
        using SqliteDataReader row = command.ExecuteReader();
        var scaled = new long[Channel.BlockRows];
        long session = 0;
        List<Found> found = [];
        while (row.Read())
        {
            if (row.GetInt64(1) != session && found.Count > 0)
            {
                yield return new SessionBlocks(session, found);
                found = [];
            }

            session = row.GetInt64(1);
            byte[] encoded = row.GetFieldValue<byte[]>(6);
            int count = row.GetInt32(5);
            found.Add(new Found(
                row.GetInt64(0),
                new ChannelKey((ChannelKind)row.GetInt32(2), row.GetInt32(3)),
                row.GetInt32(4),
                count,
                SampleBlocks.Checksum(encoded).AsSpan().SequenceEqual(row.GetFieldValue<byte[]>(7)) && Decodes(new SampleBlock(count, encoded), scaled)));
        }

        if (found.Count > 0)
        {
            yield return new SessionBlocks(session, found);
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

    private bool Fits(Found block) =>
        block.Whole && block.Ordinal >= 1 && block.Ordinal <= Counts.Count && block.Count == Counts[block.Ordinal - 1];

    /// <summary>A block as it was found.</summary>
    public sealed record Found(long Id, ChannelKey Key, int Ordinal, int Count, bool Whole);
}
