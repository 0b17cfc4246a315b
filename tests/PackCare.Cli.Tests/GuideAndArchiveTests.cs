using System.IO.Compression;
using System.Text.Json;
using PackCare.Cli.Tests.Running;

namespace PackCare.Cli.Tests;

/// <summary>Reading guides and compressed logs through the real executable.</summary>
public sealed class GuideAndArchiveTests : IDisposable
{
    private readonly Bench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Fact]
    public void A_reading_written_as_a_guide_reads_the_file_alike_and_can_be_edited()
    {
        string log = _bench.Write("bay_2026-10-01T1000.csv", PlainLog.Charge(3, seed: 1));
        string guide = Path.Combine(_bench.Folder, "mine.json");
        JsonElement plain = _bench.Run("import", log, "--dry-run", "--json", "--write-guide", guide).Expect(0).Json();

        JsonElement guided = _bench.Run("import", log, "--dry-run", "--json", "--guide", guide).Expect(0).Json();
        Assert.Equal(plain.GetProperty("sessions").ToString(), guided.GetProperty("sessions").ToString());

        // Without its temperature, which the edited guide keeps out.
        File.WriteAllText(guide, File.ReadAllText(guide).Replace("\"temperature\"", "\"ignored\"", StringComparison.Ordinal));
        JsonElement edited = _bench.Run("import", log, "--dry-run", "--json", "--guide", guide).Expect(0).Json();
        Assert.DoesNotContain("temperature", edited.GetProperty("reading").GetProperty("columns").EnumerateArray().Select(column => column.GetProperty("meaning").GetString()));
    }

    [Fact]
    public void A_guide_beside_the_log_applies_by_itself_and_two_that_apply_are_refused()
    {
        string log = _bench.Write("logs/bay_2026-10-01T1000.csv", PlainLog.Charge(3, seed: 1));
        _bench.Write("logs/bay.guide.json", """{ "guide": 1, "appliesTo": { "fileName": "bay_*.csv" }, "columns": [ { "header": "temp_c", "meaning": "ignored" } ] }""");

        JsonElement read = _bench.Run("import", log, "--dry-run", "--json").Expect(0).Json();
        Assert.Contains("ignored", read.GetProperty("reading").GetProperty("columns").EnumerateArray().Select(column => column.GetProperty("meaning").GetString()));

        _bench.Write("logs/bay2.guide.json", """{ "guide": 1, "appliesTo": { "fileName": "*.csv" } }""");
        Assert.Contains("several reading guides", _bench.Run("import", log, "--dry-run").Expect(1).Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_guide_kept_in_the_history_applies_by_itself_until_it_is_removed()
    {
        string log = _bench.Write("logs/bay_1.csv", File.ReadAllText(Path.Combine(Repository.Root, "tests", "PackCare.Import.Tests", "Files", "date-ambiguous.csv")));
        string guide = _bench.Write("bay.json", """{ "guide": 1, "name": "bay 4", "appliesTo": { "fileName": "bay_*.csv" }, "dateOrder": "day-first" }""");
        _bench.Run("import", log).Expect(1);

        Assert.Contains("bay 4", _bench.Run("guide", guide).Expect(0).Out, StringComparison.Ordinal);
        Assert.Contains("bay 4", _bench.Run("guide").Expect(0).Out, StringComparison.Ordinal);
        File.Delete(guide);
        Assert.StartsWith("2026-04-03", _bench.Run("import", log, "--dry-run", "--json", "--zone", "UTC").Expect(0).Json().GetProperty("sessions")[0].GetProperty("startedUtc").GetString(), StringComparison.Ordinal);

        _bench.Run("guide", "--remove", "bay 4").Expect(0);
        _bench.Run("import", log).Expect(1);
        _bench.Run("guide", "--remove", "bay 4").Expect(1);
    }

    [Fact]
    public void A_guide_that_is_there_is_not_overwritten()
    {
        string log = _bench.Write("bay_2026-10-01T1000.csv", PlainLog.Charge(3, seed: 1));
        string guide = _bench.Write("mine.json", "{ \"guide\": 1 }\n");

        Assert.Contains("left as it is", _bench.Run("import", log, "--dry-run", "--write-guide", guide).Expect(2).Error, StringComparison.Ordinal);
        Assert.Equal("{ \"guide\": 1 }\n", File.ReadAllText(guide));
    }

    [Fact]
    public void A_guide_that_is_no_good_is_named_with_its_line()
    {
        string log = _bench.Write("bay_2026-10-01T1000.csv", PlainLog.Charge(3, seed: 1));
        string guide = _bench.Write("bad.json", "{\n  \"guide\": 1,\n  \"delimeter\": \";\"\n}\n");

        Assert.StartsWith($"packcare: {guide}:", _bench.Run("import", log, "--guide", guide).Expect(2).Error, StringComparison.Ordinal);
        Assert.Contains("--dry-run", _bench.Run("import", log, "--write-guide", guide).Expect(2).Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Compressed_logs_are_the_same_logs()
    {
        string text = PlainLog.Charge(3, seed: 1);
        string gzip = Path.Combine(_bench.Folder, "a_2026-10-01T1000.csv.gz");
        using (var compressed = new GZipStream(File.Create(gzip), CompressionLevel.Fastest))
        {
            compressed.Write(System.Text.Encoding.UTF8.GetBytes(text));
        }

        string zip = Path.Combine(_bench.Folder, "several.zip");
        using (ZipArchive archive = ZipFile.Open(zip, ZipArchiveMode.Create))
        {
            foreach ((string name, string content) in new[] { ("a_2026-10-01T1000.csv", text), ("bench/b_2026-10-02T1000.csv", PlainLog.Charge(3, seed: 2)), ("bad.csv", "nothing\n") })
            {
                using var writer = new StreamWriter(archive.CreateEntry(name).Open());
                writer.Write(content);
            }
        }

        Assert.Equal("unassigned", _bench.Run("import", gzip, "--json").Expect(0).Json().GetProperty("status").GetString());
        IReadOnlyList<JsonElement> files = _bench.Run("import", zip, "--json").Expect(1).JsonLines();
        Assert.Equal(["already-imported", "unassigned", "refused"], files.Select(file => file.GetProperty("status").GetString()!));
        Assert.Equal($"{zip}/b_2026-10-02T1000.csv", files[1].GetProperty("file").GetString());
    }
}
