using System.IO.Compression;

namespace PackCare.Import.Archives;

/// <summary>
/// A last member that is put behind a gzip file. Members one after the other are one text by RFC 1952, and each is verified as it is
/// expanded; this one comes out whole only where the file ends with its own last member, neither cut off nor followed by anything else.
/// </summary>
internal static class GzipEnd
{
    private static readonly byte[] Mark = [0xA7, 0x1E, 0x5C, 0xF3, 0x08, 0xD2, 0x94, 0x6B, 0xE1, 0x3D, 0x77, 0x00, 0xB9, 0x42, 0xCC, 0x15];

    /// <summary>How many bytes it expands to.</summary>
    internal static int Length => Mark.Length;

    /// <summary>Its bytes, compressed.</summary>
    internal static byte[] Member { get; } = Compress();

    /// <summary>Takes it off what was expanded; false where it is not at the end of that.</summary>
    internal static bool TryTakeOff(Stream expanded)
    {
        Span<byte> end = stackalloc byte[Mark.Length];
        long length = expanded.Length - end.Length;
        if (length < 0)
        {
            return false;
        }

        expanded.Position = length;
        expanded.ReadExactly(end);
        expanded.SetLength(length);
        expanded.Position = 0;
        return end.SequenceEqual(Mark);
    }

    private static byte[] Compress()
    {
        using var packed = new MemoryStream();
        using (var gzip = new GZipStream(packed, CompressionLevel.Fastest))
        {
            gzip.Write(Mark);
        }

        return packed.ToArray();
    }
}
