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
