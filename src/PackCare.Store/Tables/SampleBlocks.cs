using System.Buffers.Binary;
using System.Security.Cryptography;
using Microsoft.Data.Sqlite;
using PackCare.Core.Samples;

namespace PackCare.Store.Tables;

/// <summary>
/// Compressed samples, each block beside its checksum: the first eight bytes of the SHA-256 of its place and its bytes,
/// so that neither a changed byte nor a block in the wrong place is taken for readings.
/// </summary>
internal sealed class SampleBlocks(SqliteConnection connection) : IDisposable
{
    private const int ChecksumBytes = 8;

    private readonly Insertion _block = new(connection, "sample_block", ["session_id", "kind", "idx", "ordinal", "count", "encoded", "checksum"]);

    /// <summary>The checksum of a block in its place: session, kind, index, ordinal and count as 64-bit integers, least significant byte first, then the bytes.</summary>
    public static byte[] Checksum(long sessionId, ChannelKey key, long ordinal, long count, ReadOnlySpan<byte> encoded)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        Span<byte> place = stackalloc byte[5 * sizeof(long)];
        BinaryPrimitives.WriteInt64LittleEndian(place, sessionId);
        BinaryPrimitives.WriteInt64LittleEndian(place[8..], (long)key.Kind);
        BinaryPrimitives.WriteInt64LittleEndian(place[16..], key.Index);
        BinaryPrimitives.WriteInt64LittleEndian(place[24..], ordinal);
        BinaryPrimitives.WriteInt64LittleEndian(place[32..], count);
        hash.AppendData(place);
        hash.AppendData(encoded);
        return hash.GetHashAndReset()[..ChecksumBytes];
    }

    /// <exception cref="InvalidDataException">A block is damaged, or blocks are missing.</exception>
    public static SampleSeries Read(SqliteConnection connection, long sessionId)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "SELECT kind, idx, ordinal, count, encoded, checksum FROM sample_block WHERE session_id = $session ORDER BY kind, idx, ordinal";
        command.Parameters.AddWithValue("$session", sessionId);
        var channels = new Dictionary<ChannelKey, List<SampleBlock>>();
        using SqliteDataReader row = command.ExecuteReader();
        while (row.Read())
        {
            var key = new ChannelKey((ChannelKind)row.GetInt32(0), row.GetInt32(1));
            if (!channels.TryGetValue(key, out List<SampleBlock>? blocks))
            {
                channels.Add(key, blocks = []);
            }

            byte[] encoded = row.GetFieldValue<byte[]>(4);
            byte[] checksum = Checksum(sessionId, key, row.GetInt64(2), row.GetInt64(3), encoded);
            if (row.GetInt64(2) != blocks.Count + 1 || !checksum.AsSpan().SequenceEqual(row.GetFieldValue<byte[]>(5)))
            {
                throw new InvalidDataException($"block {row.GetInt64(2)} of {key.Kind} {key.Index} in session {sessionId} is not what was stored");
            }

            blocks.Add(new SampleBlock(row.GetInt32(3), encoded));
        }

        try
        {
            return new SampleSeries(channels.Select(channel => new Channel(channel.Key, channel.Value)));
        }
        catch (ArgumentException error)
        {
            throw new InvalidDataException($"blocks of session {sessionId} are missing", error);
        }
    }

    public void Add(long sessionId, SampleSeries samples)
    {
        foreach (Channel channel in samples.Channels)
        {
            for (int i = 0; i < channel.Blocks.Count; i++)
            {
                Add(sessionId, channel.Key, i + 1, channel.Blocks[i]);
            }
        }
    }

    public void Add(long sessionId, ChannelKey key, int ordinal, SampleBlock block)
    {
        ReadOnlyMemory<byte> encoded = block.Encoded;
        _block.Run(sessionId, (long)key.Kind, key.Index, ordinal, block.Count, encoded, Checksum(sessionId, key, ordinal, block.Count, encoded.Span));
    }

    public void Dispose() => _block.Dispose();
}
