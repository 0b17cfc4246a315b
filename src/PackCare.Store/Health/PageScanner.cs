using System.Buffers.Binary;
using System.Text;

namespace PackCare.Store.Health;

/// <summary>
/// Finds rows in the pages of a database file without the tree that leads to them (https://www.sqlite.org/fileformat2.html):
/// where an inner page is damaged, the leaves below it are whole and only out of reach.
/// </summary>
internal sealed class PageScanner
{
    private const byte InnerIndex = 2;
    private const byte LeafIndex = 10;
    private const byte LeafTable = 13;
    private const int MaxColumns = 64;
    private const int MaxPayload = 64 * 1024 * 1024;

    private readonly FileStream _file;
    private readonly int _pageSize;
    private readonly int _usable;
    private readonly long _pages;

    public PageScanner(FileStream file)
    {
        _file = file;
        Span<byte> header = stackalloc byte[100];
        file.Position = 0;
        file.ReadExactly(header);
        int size = BinaryPrimitives.ReadUInt16BigEndian(header[16..]);
        _pageSize = size == 1 ? 65_536 : size;
        if (_pageSize < 512 || (_pageSize & (_pageSize - 1)) != 0)
        {
            throw new InvalidDataException("the page size is none");
        }

        _usable = _pageSize - header[20];
        _pages = file.Length / _pageSize;
    }

    /// <summary>
    /// Every row in every leaf that is in use, and whether it is of a table with numbered rows; their first column is the number.
    /// Nothing says to which table a row belongs, and what looks like a row need not be one.
    /// </summary>
    public IEnumerable<(bool Numbered, object?[] Row)> Rows()
    {
        HashSet<long> free = FreePages();
        var page = new byte[_pageSize];
        for (long number = 2; number <= _pages; number++)
        {
            if (free.Contains(number))
            {
                continue;
            }

            Read(number, page);
            if (page[0] is not (LeafTable or LeafIndex or InnerIndex))
            {
                continue;
            }

            int cells = BinaryPrimitives.ReadUInt16BigEndian(page.AsSpan(3));
            int pointers = page[0] == InnerIndex ? 12 : 8;
            for (int i = 0; i < cells && pointers + (2 * i) + 2 <= _usable; i++)
            {
                int at = BinaryPrimitives.ReadUInt16BigEndian(page.AsSpan(pointers + (2 * i)));
                if (ReadCell(page, page[0], at) is { } row)
                {
                    yield return (page[0] == LeafTable, row);
                }
            }
        }
    }

    private object?[]? ReadCell(byte[] page, byte kind, int at)
    {
        at += kind == InnerIndex ? 4 : 0;
        if (!TryVarint(page, ref at, out long length) || length is < 2 or > MaxPayload)
        {
            return null;
        }

        long number = 0;
        if (kind == LeafTable && !TryVarint(page, ref at, out number))
        {
            return null;
        }

        byte[]? payload = ReadPayload(page, at, (int)length, kind == LeafTable);
        object?[]? row = payload is null ? null : ReadRecord(payload);
        if (kind == LeafTable && row is [null, ..])
        {
            row[0] = number;
        }

        return row;
    }

    private byte[]? ReadPayload(byte[] page, int at, int length, bool table)
    {
        int most = table ? _usable - 35 : ((_usable - 12) * 64 / 255) - 23;
        int local = length;
        if (length > most)
        {
            int least = ((_usable - 12) * 32 / 255) - 23;
            int fitting = least + ((length - least) % (_usable - 4));
            local = fitting <= most ? fitting : least;
        }

        if (at + local + (local < length ? 4 : 0) > _usable)
        {
            return null;
        }

        var payload = new byte[length];
        page.AsSpan(at, local).CopyTo(payload);
        if (local == length)
        {
            return payload;
        }

        long next = BinaryPrimitives.ReadUInt32BigEndian(page.AsSpan(at + local));
        var overflow = new byte[_pageSize];
        for (int done = local; done < length;)
        {
            if (next < 2 || next > _pages)
            {
                return null;
            }

            Read(next, overflow);
            next = BinaryPrimitives.ReadUInt32BigEndian(overflow);
            int part = Math.Min(length - done, _usable - 4);
            overflow.AsSpan(4, part).CopyTo(payload.AsSpan(done));
            done += part;
        }

        return payload;
    }

    private static object?[]? ReadRecord(byte[] payload)
    {
        int at = 0;
        if (!TryVarint(payload, ref at, out long header) || header > payload.Length)
        {
            return null;
        }

        List<object?> values = [];
        int body = (int)header;
        while (at < header)
        {
            if (values.Count == MaxColumns || !TryVarint(payload, ref at, out long type) || !TryValue(payload, ref body, type, out object? value))
            {
                return null;
            }

            values.Add(value);
        }

        return at == header && body == payload.Length ? [.. values] : null;
    }

    private static bool TryValue(byte[] payload, ref int at, long type, out object? value)
    {
        value = null;
        long length = type switch
        {
            < 0 or 10 or 11 => -1,
            0 or 8 or 9 => 0,
            <= 4 => type,
            5 => 6,
            <= 7 => 8,
            _ => (type - 12) / 2,
        };
        if (length < 0 || at + length > payload.Length)
        {
            return false;
        }

        ReadOnlySpan<byte> bytes = payload.AsSpan(at, (int)length);
        at += (int)length;
        value = type switch
        {
            0 => null,
            8 => 0L,
            9 => 1L,
            7 => BitConverter.Int64BitsToDouble(BinaryPrimitives.ReadInt64BigEndian(bytes)),
            < 7 => Integer(bytes),
            _ when type % 2 == 0 => bytes.ToArray(),
            _ => Encoding.UTF8.GetString(bytes),
        };
        return true;
    }

    private static long Integer(ReadOnlySpan<byte> bytes)
    {
        long value = (sbyte)bytes[0];
        foreach (byte next in bytes[1..])
        {
            value = (value << 8) | next;
        }

        return value;
    }

    private static bool TryVarint(byte[] bytes, ref int at, out long value)
    {
        value = 0;
        for (int i = 0; i < 9; i++)
        {
            if (at < 0 || at >= bytes.Length)
            {
                return false;
            }

            byte next = bytes[at++];
            if (i == 8)
            {
                value = (value << 8) | next;
                return true;
            }

            value = (value << 7) | (long)(next & 0x7F);
            if (next < 0x80)
            {
                return true;
            }
        }

        return false;
    }

    private HashSet<long> FreePages()
    {
        HashSet<long> free = [];
        var page = new byte[_pageSize];
        Read(1, page);
        long trunk = BinaryPrimitives.ReadUInt32BigEndian(page.AsSpan(32));
        while (trunk >= 2 && trunk <= _pages && free.Add(trunk))
        {
            Read(trunk, page);
            trunk = BinaryPrimitives.ReadUInt32BigEndian(page);
            long leaves = Math.Min(BinaryPrimitives.ReadUInt32BigEndian(page.AsSpan(4)), (_usable / 4) - 2);
            for (int i = 0; i < leaves; i++)
            {
                free.Add(BinaryPrimitives.ReadUInt32BigEndian(page.AsSpan(8 + (4 * i))));
            }
        }

        return free;
    }

    private void Read(long number, byte[] page)
    {
        _file.Position = (number - 1) * _pageSize;
        _file.ReadExactly(page);
    }
}
