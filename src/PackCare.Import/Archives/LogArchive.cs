using System.IO.Compression;
using PackCare.Core.Reading;
using PackCare.Import.Tables;

namespace PackCare.Import.Archives;

/// <summary>
/// Opens gzip and zip files as logs. Nothing is written under a name that an archive gives; expansion is bounded while it
/// runs, whatever sizes the archive claims; archives within archives are not opened, nor archives of other kinds.
/// </summary>
public static class LogArchive
{
    private const int InMemoryBytes = 8 << 20;
    private const string NotOpened = "archive-not-opened";

    /// <summary>Whether a file is packed, by its first bytes, be it in a way that is not opened; its position is left at the beginning.</summary>
    /// <param name="bytes">The file; seekable.</param>
    public static bool IsArchive(Stream bytes)
    {
        ArgumentNullException.ThrowIfNull(bytes);
        return FileMark.NameOf(bytes, out bool isPacked) is not null && isPacked;
    }

    /// <summary>Expands the files of an archive one after the other.</summary>
    /// <param name="bytes">The archive; seekable.</param>
    /// <param name="source">Its name and date.</param>
    /// <param name="limits">How much it may hold.</param>
    /// <returns>Its files in order; a problem ends the sequence where nothing after it can be trusted.</returns>
    public static IEnumerable<ArchivedLog> Open(Stream bytes, LogSource source, ArchiveLimits limits)
    {
        ArgumentNullException.ThrowIfNull(bytes);
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(limits);
        return KindOf(bytes) switch
        {
            Kind.Gzip => OpenGzip(bytes, source, limits),
            Kind.Zip => OpenZip(bytes, source, limits),
            _ => [Refused(source, NotOpened, $"{FileMark.NameOf(bytes, out _) ?? "a file"} is neither gzip nor zip, and is not opened", "unpack it, and hand over the logs in it")],
        };
    }

    private enum Kind
    {
        None,
        Gzip,
        Zip,
    }

    private static Kind KindOf(Stream bytes)
    {
        Span<byte> mark = stackalloc byte[4];
        bytes.Position = 0;
        int read = bytes.ReadAtLeast(mark, 4, throwOnEndOfStream: false);
        bytes.Position = 0;
        return read >= 3 && mark[..3].SequenceEqual((ReadOnlySpan<byte>)[0x1F, 0x8B, 8]) ? Kind.Gzip
            : read == 4 && (mark.SequenceEqual("PK\x03\x04"u8) || mark.SequenceEqual("PK\x05\x06"u8)) ? Kind.Zip
            : Kind.None;
    }

    private static IEnumerable<ArchivedLog> OpenGzip(Stream bytes, LogSource source, ArchiveLimits limits)
    {
        string name = source.Name.EndsWith(".gz", StringComparison.OrdinalIgnoreCase) ? source.Name[..^3] : source.Name;
        var inner = source with { Name = SafeName(name) ?? "log.csv" };
        using var gzip = new GZipStream(new AppendedStream(bytes, GzipEnd.Member), CompressionMode.Decompress);
        long left = limits.MaxExpandedBytes + GzipEnd.Length;
        Stream? expanded = Expand(gzip, bytes.Length, limits, ref left, out _, out string? wrong);
        if (expanded is not null && !GzipEnd.TryTakeOff(expanded))
        {
            expanded.Dispose();
            expanded = null;
            wrong = "a gzip file that is cut off or damaged, or has something else behind it";
        }

        yield return expanded is null ? Refused(inner, "bad-archive", wrong!, "compress the log again, or hand over the log itself") : LogOrWhatItIs(inner, expanded);
    }

    // What is packed once more is named for what it is; it would pass for a damaged text.
    private static ArchivedLog LogOrWhatItIs(LogSource inner, Stream expanded)
    {
        if (inner.Name.EndsWith(".guide.json", StringComparison.OrdinalIgnoreCase))
        {
            expanded.Dispose();
            return Refused(inner, "not-a-log", "a reading guide within an archive is not followed", "lay it beside the archive, or name it with --guide");
        }

        if (FileMark.NameOf(expanded, out bool isPacked) is not { } name)
        {
            return new ArchivedLog(inner, expanded, null);
        }

        expanded.Dispose();
        return isPacked
            ? Refused(inner, NotOpened, $"{name} within an archive is not opened", "unpack it, and hand over the logs in it")
            : Refused(inner, "not-a-log", $"{name} is no log", "leave it out of the archive; the logs beside it are read without it");
    }

    private static IEnumerable<ArchivedLog> OpenZip(Stream bytes, LogSource source, ArchiveLimits limits)
    {
        ZipArchive? zip = null;
        string code = "bad-archive";
        string? broken = null;
        string advice = "compress the logs again, or hand over the logs themselves";
        try
        {
            zip = new ZipArchive(bytes, ZipArchiveMode.Read, leaveOpen: true);
            if (zip.Entries.Count > limits.MaxEntries)
            {
                broken = $"a zip file of {zip.Entries.Count} files, where {limits.MaxEntries} is the most";
            }
            else if (zip.Entries.Any(entry => entry.FullName is "[Content_Types].xml" or "mimetype"))
            {
                (code, broken, advice) = ("not-a-log", "a workbook or document of an office program is no log", "save the table as CSV from that program");
            }
            else if (zip.Entries.All(HoldsNoFile))
            {
                (code, broken, advice) = ("empty-archive", "a zip file that holds no file", "pack the logs again, or hand over the logs themselves");
            }
        }
        catch (InvalidDataException)
        {
            broken = "a zip file that is cut off or damaged";
        }

        if (zip is null || broken is not null)
        {
            zip?.Dispose();
            yield return Refused(source, code, broken!, advice);
            yield break;
        }

        using (zip)
        {
            long left = limits.MaxExpandedBytes;
            foreach (ZipArchiveEntry entry in zip.Entries.Where(entry => !HoldsNoFile(entry)))
            {
                string? name = SafeName(entry.FullName);
                if (name is null)
                {
                    yield return Refused(source with { Name = "an entry of " + source.Name }, "unsafe-name", $"a file in the archive whose name leads out of it: \"{Refusals.Snippet(entry.FullName)}\"", "pack the logs again without paths");
                    continue;
                }

                var inner = new LogSource(name, DateOf(entry, source.LastWritten));
                if (entry.IsEncrypted)
                {
                    yield return Refused(inner, "encrypted", "a file that is encrypted in the archive", "unpack it with its password, and hand over the log itself");
                    continue;
                }

                (Stream? expanded, string? wrong) = ExpandEntry(entry, limits, ref left);
                if (expanded is null)
                {
                    yield return Refused(inner, "bad-archive", wrong!, "compress the logs again, or hand over the log itself");
                    if (left <= 0)
                    {
                        yield break;
                    }

                    continue;
                }

                yield return LogOrWhatItIs(inner, expanded);
            }
        }
    }

    // A folder's own entry, and what a system adds for itself beside each file.
    private static bool HoldsNoFile(ZipArchiveEntry entry) =>
        entry.FullName.EndsWith('/') || entry.FullName.EndsWith('\\') || entry.FullName.StartsWith("__MACOSX/", StringComparison.Ordinal);

    private static (Stream? Expanded, string? Wrong) ExpandEntry(ZipArchiveEntry entry, ArchiveLimits limits, ref long left)
    {
        try
        {
            using Stream packed = entry.Open();
            Stream? expanded = Expand(packed, entry.CompressedLength, limits, ref left, out uint checksum, out string? wrong);
            if (expanded is not null && (expanded.Length != entry.Length || checksum != entry.Crc32))
            {
                expanded.Dispose();
                return (null, "a file that is cut off or damaged");
            }

            return (expanded, wrong);
        }
        catch (Exception exception) when (exception is InvalidDataException or NotSupportedException or EndOfStreamException)
        {
            return (null, "a file that is cut off or damaged, or packed in an unknown way");
        }
    }

    // Small logs stay in memory, long ones go to a file that vanishes with its stream.
    private static Stream? Expand(Stream packed, long packedLength, ArchiveLimits limits, ref long left, out uint checksum, out string? wrong)
    {
        wrong = null;
        checksum = 0;
        var crc = new Crc32();
        Stream expanded = new MemoryStream();
        byte[] chunk = new byte[1 << 16];
        long total = 0;
        try
        {
            int read;
            while ((read = packed.Read(chunk)) > 0)
            {
                total += read;
                left -= read;
                if (left < 0)
                {
                    wrong = $"more than {limits.MaxExpandedBytes} bytes once expanded";
                }
                else if (total > limits.RatioFreeBytes && total > Math.Max(1, packedLength) * limits.MaxRatio)
                {
                    wrong = $"data that expands more than {limits.MaxRatio} times";
                }

                if (wrong is not null)
                {
                    expanded.Dispose();
                    return null;
                }

                if (expanded is MemoryStream && total > InMemoryBytes)
                {
                    Stream file = TemporaryFile();
                    expanded.Position = 0;
                    expanded.CopyTo(file);
                    expanded.Dispose();
                    expanded = file;
                }

                crc.Add(chunk.AsSpan(0, read));
                expanded.Write(chunk, 0, read);
            }

            checksum = crc.Value;
            expanded.Position = 0;
            return expanded;
        }
        catch (InvalidDataException)
        {
            expanded.Dispose();
            wrong = "a file that is cut off or damaged";
            return null;
        }
    }

    private static FileStream TemporaryFile() => new(
        Path.Combine(Path.GetTempPath(), "packcare-" + Path.GetRandomFileName()),
        new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.ReadWrite, Share = FileShare.None, Options = FileOptions.DeleteOnClose | FileOptions.SequentialScan });

    private static DateTimeOffset DateOf(ZipArchiveEntry entry, DateTimeOffset otherwise) => entry.LastWriteTime.Year > 1980 ? entry.LastWriteTime : otherwise;

    // The name alone, without folders; none for a name that climbs, is rooted, or has characters that no file name has.
    private static string? SafeName(string full)
    {
        string[] parts = full.Split('/', '\\');
        if (parts.Any(part => part is "..") || full.StartsWith('/') || full.StartsWith('\\') || full is [_, ':', ..] || full.Any(char.IsControl))
        {
            return null;
        }

        string name = parts[^1].Trim();
        return name.Length is > 0 and <= 255 ? name : null;
    }

    private static ArchivedLog Refused(LogSource source, string code, string found, string advice) =>
        new(source, null, new InputProblem(code, ProblemLevel.Refusal, null, null, found, advice));
}
