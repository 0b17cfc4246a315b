namespace PackCare.Import.Archives;

/// <summary>Tells by their first bytes files that are no text, so that they can be called by what they are.</summary>
internal static class FileMark
{
    private const int TarMarkAt = 257;

    private static readonly (byte[] Mark, string Name, bool IsPacked)[] Marks =
    [
        ([0x50, 0x4B, 3, 4], "a zip file", true),
        ([0x50, 0x4B, 5, 6], "a zip file", true),
        ([0x1F, 0x8B, 8], "a gzip file", true),
        ([.. "7z"u8, 0xBC, 0xAF, 0x27, 0x1C], "a 7z archive", true),
        ([.. "Rar!"u8, 0x1A, 7], "a rar archive", true),
        ([0xFD, .. "7zXZ"u8, 0], "an xz file", true),
        ([0x28, 0xB5, 0x2F, 0xFD], "a Zstandard file", true),
        ([0x89, .. "PNG\r\n"u8], "a PNG picture", false),
        ([0xFF, 0xD8, 0xFF], "a JPEG picture", false),
        ([.. "GIF8"u8], "a GIF picture", false),
        ([.. "%PDF-"u8], "a PDF document", false),
        ([.. "SQLite format 3\0"u8], "an SQLite database", false),
        ([0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1], "a workbook or document of an office program", false),
    ];

    /// <summary>What a file is by its first bytes; null for anything that may be text. Its position is left at the beginning.</summary>
    /// <param name="bytes">The file; seekable.</param>
    /// <param name="isPacked">Whether other files may be in it.</param>
    internal static string? NameOf(Stream bytes, out bool isPacked)
    {
        Span<byte> head = stackalloc byte[TarMarkAt + 5];
        bytes.Position = 0;
        head = head[..bytes.ReadAtLeast(head, head.Length, throwOnEndOfStream: false)];
        bytes.Position = 0;
        foreach ((byte[] mark, string name, bool packed) in Marks)
        {
            if (head.StartsWith(mark))
            {
                isPacked = packed;
                return name;
            }
        }

        bool isBzip2 = head.StartsWith("BZh"u8) && head.Length > 10 && head[4..10].SequenceEqual((ReadOnlySpan<byte>)[0x31, 0x41, 0x59, 0x26, 0x53, 0x59]);
        bool isTar = head.Length > TarMarkAt && head[TarMarkAt..].SequenceEqual("ustar"u8) && head[..TarMarkAt].Contains((byte)0);
        isPacked = isBzip2 || isTar;
        return isBzip2 ? "a bzip2 file" : isTar ? "a tar archive" : null;
    }
}
