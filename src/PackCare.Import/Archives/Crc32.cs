namespace PackCare.Import.Archives;

/// <summary>The checksum of zip files: CRC-32 of ISO 3309 and ITU-T V.42, polynomial 0xEDB88320 reflected.</summary>
internal struct Crc32
{
    private static readonly uint[] Table = MakeTable();
    private uint _state = 0xFFFFFFFF;

    /// <summary>Starts anew.</summary>
    public Crc32()
    {
    }

    /// <summary>The checksum of what was added.</summary>
    internal readonly uint Value => ~_state;

    /// <summary>Adds bytes.</summary>
    internal void Add(ReadOnlySpan<byte> bytes)
    {
        uint state = _state;
        foreach (byte b in bytes)
        {
            state = Table[(byte)(state ^ b)] ^ (state >> 8);
        }

        _state = state;
    }

    private static uint[] MakeTable()
    {
        var table = new uint[256];
        for (uint i = 0; i < 256; i++)
        {
            uint value = i;
            for (int bit = 0; bit < 8; bit++)
            {
                value = (value & 1) != 0 ? 0xEDB88320 ^ (value >> 1) : value >> 1;
            }

            table[i] = value;
        }

        return table;
    }
}
