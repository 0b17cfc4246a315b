using System.IO.Compression;
using PackCare.Core.Reading;
using PackCare.Import.Archives;

namespace PackCare.Import.Tests;

public class ArchiveTests
{
    private static readonly byte[] Log = File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "Files", "semicolon-comma-header.csv"));
    private static readonly string Truth = Path.Combine(AppContext.BaseDirectory, "Files", "charge.truth");
    private static readonly DateTimeOffset Written = new(2026, 5, 1, 12, 0, 0, TimeSpan.Zero);

    [Fact]
    public void A_gzip_file_is_read_like_the_log_in_it()
    {
        ArchivedLog log = Assert.Single(Open(Gzip(Log), "bay.csv.gz"));

        Assert.Equal("bay.csv", log.Source.Name);
        AssertRead(log);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(7)]
    [InlineData(200)]
    public void Members_of_a_gzip_file_are_one_text(int first)
    {
        byte[] members = [.. Gzip(Log[..first]), .. Gzip([]), .. Gzip(Log[first..])];

        AssertRead(Assert.Single(Open(members, "bay.csv.gz")));
    }

    [Fact]
    public void Each_member_of_a_gzip_file_is_verified_and_the_last_must_end_with_the_file()
    {
        byte[] first = Gzip(Log[..200]);
        byte[] members = [.. first, .. Gzip(Log[200..])];

        for (int at = 12; at < members.Length; at += 5)
        {
            byte[] damaged = [.. members];
            damaged[at] ^= 0x55;
            Assert.All(Open(damaged, "a.csv.gz"), log => Assert.True(log.Bytes is null || Same(log.Bytes)));
        }

        for (int cut = 1; cut < members.Length; cut++)
        {
            Assert.All(Open(members[..cut], "a.csv.gz"), log => Assert.Equal(cut == first.Length, log.Bytes is not null));
        }

        Assert.All(Open([.. members, .. "and more"u8], "a.csv.gz"), log => Assert.Equal("bad-archive", log.Problem!.Code));
        Assert.All(Open([.. members, 0, 0, 0, 0], "a.csv.gz"), log => Assert.Equal("bad-archive", log.Problem!.Code));
    }

    [Fact]
    public void Members_of_a_gzip_file_count_together()
    {
        byte[] members = [.. Gzip(Log), .. Gzip(Log)];

        Assert.Equal("bad-archive", Assert.Single(Open(members, "x.gz", new ArchiveLimits(MaxExpandedBytes: (2 * Log.Length) - 1))).Problem!.Code);
        Assert.Null(Assert.Single(Open(members, "x.gz", new ArchiveLimits(MaxExpandedBytes: 2 * Log.Length))).Problem);
        byte[] bomb = [.. Enumerable.Repeat(Gzip(new byte[1 << 20]), 64).SelectMany(member => member)];
        Assert.Contains("expands", Assert.Single(Open(bomb, "bomb.csv.gz")).Problem!.Found, StringComparison.Ordinal);
    }

    [Fact]
    public void Each_file_of_a_zip_file_is_read_under_its_own_name_and_date()
    {
        byte[] zip = Zip(("logs/a.csv", Log), ("b.csv", Log), ("logs/", []));

        List<string> names = [];
        foreach (ArchivedLog log in Open(zip, "logs.zip"))
        {
            names.Add(log.Source.Name);
            Assert.Equal(2026, log.Source.LastWritten.Year);
            AssertRead(log);
        }

        Assert.Equal(["a.csv", "b.csv"], names);
    }

    [Theory]
    [InlineData("../escape.csv")]
    [InlineData("..\\escape.csv")]
    [InlineData("a/../../escape.csv")]
    [InlineData("/etc/escape.csv")]
    [InlineData("C:\\escape.csv")]
    public void A_name_that_leads_out_of_the_archive_is_refused_and_the_rest_is_read(string name)
    {
        List<ArchivedLog> logs = [];
        foreach (ArchivedLog log in Open(Zip((name, Log), ("good.csv", Log)), "logs.zip"))
        {
            logs.Add(log);
            log.Bytes?.Dispose();
        }

        Assert.Equal("unsafe-name", logs[0].Problem!.Code);
        Assert.Equal("good.csv", logs[1].Source.Name);
        Assert.Null(logs[1].Problem);
    }

    [Fact]
    public void Data_that_expands_without_measure_is_refused_on_the_way()
    {
        byte[] bomb = Gzip(new byte[64 << 20]);

        ArchivedLog log = Assert.Single(Open(bomb, "bomb.csv.gz"));

        Assert.Null(log.Bytes);
        Assert.Contains("expands", log.Problem!.Found, StringComparison.Ordinal);
    }

    [Fact]
    public void More_bytes_or_files_than_allowed_are_refused()
    {
        var few = new ArchiveLimits(MaxEntries: 1);
        var small = new ArchiveLimits(MaxExpandedBytes: Log.Length + 10);

        Assert.Equal("bad-archive", Assert.Single(Open(Zip(("a.csv", Log), ("b.csv", Log)), "x.zip", few)).Problem!.Code);
        List<ArchivedLog> logs = [];
        foreach (ArchivedLog log in Open(Zip(("a.csv", Log), ("b.csv", Log), ("c.csv", Log)), "x.zip", small))
        {
            logs.Add(log);
            log.Bytes?.Dispose();
        }

        Assert.Equal(2, logs.Count);
        Assert.Null(logs[0].Problem);
        Assert.NotNull(logs[1].Problem);
    }

    [Fact]
    public void A_cut_or_damaged_archive_is_refused_never_read_in_part()
    {
        byte[] gzip = Gzip(Log);
        byte[] zip = Zip(("a.csv", Log));
        for (int cut = 1; cut < gzip.Length - 3; cut += 7)
        {
            Assert.All(Open(gzip[..^cut], "a.csv.gz"), log => Assert.Null(log.Bytes));
        }

        for (int at = 12; at < gzip.Length; at += 11)
        {
            byte[] damaged = [.. gzip];
            damaged[at] ^= 0x55;
            Assert.All(Open(damaged, "a.csv.gz"), log => Assert.True(log.Bytes is null || Same(log.Bytes)));
        }

        for (int cut = 1; cut < zip.Length - 4; cut += 7)
        {
            Assert.All(Open(zip[..^cut], "a.zip"), log => Assert.Null(log.Bytes));
        }

        for (int at = 45; at < zip.Length; at += 11)
        {
            byte[] damaged = [.. zip];
            damaged[at] ^= 0x55;
            Assert.All(Open(damaged, "a.zip"), log => Assert.True(log.Bytes is null || Same(log.Bytes)));
        }
    }

    [Fact]
    public void Archives_and_other_files_beside_a_log_are_named_for_what_they_are_and_the_log_is_read()
    {
        byte[] zip = Zip(("a.csv", Log), ("inner.zip", Zip(("b.csv", Log))), ("c.csv.gz", Gzip(Log)), ("photo.csv", [0x89, 0x50, 0x4E, 0x47, 13, 10, 26, 10, 0, 0]), ("d.csv", Log));

        Assert.Equal(["a.csv", "inner.zip archive-not-opened", "c.csv.gz archive-not-opened", "photo.csv not-a-log", "d.csv"], Told(zip, "x.zip"));
    }

    [Fact]
    public void An_archive_within_a_gzip_file_is_not_opened()
    {
        Assert.Equal(["a.csv archive-not-opened"], Told(Gzip(Gzip(Log)), "a.csv.gz"));
        Assert.Equal(["a archive-not-opened"], Told(Gzip(Zip(("a.csv", Log))), "a.gz"));
    }

    [Fact]
    public void An_archive_without_a_file_says_so()
    {
        Assert.Equal(["x.zip empty-archive"], Told(Zip(), "x.zip"));
        Assert.Equal(["x.zip empty-archive"], Told(Zip(("logs/", []), ("__MACOSX/a.csv", Log)), "x.zip"));
    }

    [Fact]
    public void A_reading_guide_within_an_archive_is_not_followed() =>
        Assert.Equal(["a.csv", "a.guide.json not-a-log"], Told(Zip(("a.csv", Log), ("a.guide.json", "{}"u8.ToArray())), "x.zip"));

    [Fact]
    public void A_workbook_is_no_archive_of_logs() =>
        Assert.Equal(["x.xlsx not-a-log"], Told(Zip(("[Content_Types].xml", Log), ("xl/a.csv", Log)), "x.xlsx"));

    [Fact]
    public void An_encrypted_file_is_named_and_the_log_beside_it_is_read()
    {
        // The flag that marks a file as encrypted, in its own header and in the list at the end.
        byte[] zip = Zip(("secret.csv", Log), ("a.csv", Log));
        zip[6] |= 1;
        zip[zip.AsSpan().IndexOf("PK\x01\x02"u8) + 8] |= 1;

        Assert.Equal(["secret.csv encrypted", "a.csv"], Told(zip, "x.zip"));
    }

    [Theory]
    [InlineData("7z\u00BC\u00AF\u0027\u001C....")]
    [InlineData("Rar!\u001A\u0007\u0000....")]
    [InlineData("BZh91AY&SY....")]
    public void An_archive_of_another_kind_is_not_opened(string content)
    {
        byte[] bytes = System.Text.Encoding.Latin1.GetBytes(content);
        using var stream = new MemoryStream(bytes);

        Assert.True(LogArchive.IsArchive(stream));
        Assert.Equal(["x.bin archive-not-opened"], Told(bytes, "x.bin"));
    }

    [Fact]
    public void A_picture_is_no_damaged_log()
    {
        using var stream = new MemoryStream([0xFF, 0xD8, 0xFF, 0xE0, 0, 16, 0x4A, 0x46]);

        Assert.False(LogArchive.IsArchive(stream));
        ReadResult result = LogReader.Read(stream, new LogSource("photo.csv", Written), new ReadOptions(null, TimeZoneInfo.Utc));
        Assert.Equal("not-a-log", Assert.Single(result.Problems).Code);
        Assert.True(result.Ledger.Balances);
    }

    [Fact]
    public void A_plain_log_is_no_archive()
    {
        using var stream = new MemoryStream(Log);

        Assert.False(LogArchive.IsArchive(stream));
        Assert.Equal(0, stream.Position);
    }

    /// <summary>The check value of CRC-32 for the digits 1 to 9, as catalogues of checksums publish it (ITU-T V.42 polynomial).</summary>
    [Fact]
    public void The_checksum_has_its_published_check_value()
    {
        var crc = new Crc32();
        crc.Add("123456789"u8);

        Assert.Equal(0xCBF43926u, crc.Value);
    }

    // Each file by its name, and with the code of its refusal; what has none is the log.
    private static List<string> Told(byte[] archive, string name)
    {
        List<string> told = [];
        foreach (ArchivedLog log in Open(archive, name))
        {
            told.Add(log.Problem is null ? log.Source.Name : $"{log.Source.Name} {log.Problem.Code}");
            if (log.Problem is null)
            {
                AssertRead(log);
            }
        }

        return told;
    }

    private static bool Same(Stream bytes)
    {
        byte[] read = new byte[bytes.Length];
        bytes.ReadExactly(read);
        bytes.Dispose();
        return read.AsSpan().SequenceEqual(Log);
    }

    private static void AssertRead(ArchivedLog log)
    {
        using Stream bytes = log.Bytes!;
        ReadResult result = LogReader.Read(bytes, log.Source, new ReadOptions(null, TimeZoneInfo.Utc));
        Assert.False(result.Refused);
        Logs.AssertEqual(Truth, result.Sessions[0].Samples);
    }

    private static IEnumerable<ArchivedLog> Open(byte[] bytes, string name, ArchiveLimits? limits = null) =>
        LogArchive.Open(new MemoryStream(bytes), new LogSource(name, Written), limits ?? new ArchiveLimits());

    private static byte[] Gzip(byte[] bytes)
    {
        using var packed = new MemoryStream();
        using (var gzip = new GZipStream(packed, CompressionLevel.Optimal, leaveOpen: true))
        {
            gzip.Write(bytes);
        }

        return packed.ToArray();
    }

    private static byte[] Zip(params (string Name, byte[] Bytes)[] files)
    {
        using var packed = new MemoryStream();
        using (var zip = new ZipArchive(packed, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach ((string name, byte[] bytes) in files)
            {
                ZipArchiveEntry entry = zip.CreateEntry(name);
                entry.LastWriteTime = Written;
                using Stream stream = entry.Open();
                stream.Write(bytes);
            }
        }

        return packed.ToArray();
    }
}
