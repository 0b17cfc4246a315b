using PackCare.Report.Tests.Fixtures;

namespace PackCare.Report.Tests;

public sealed class FoldersAreKeptClean : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("packcare-folder-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Pages_of_packs_that_are_no_longer_in_the_report_go()
    {
        Write("One", "Two");
        IReadOnlyList<string> removed = Write("One");
        Assert.Equal(["pack-two.html"], removed.Select(Path.GetFileName));
        Assert.Equal(["index.html", "pack-one.html", ReportFolder.ListName], Files());
        Assert.Empty(Write("One"));
    }

    [Fact]
    public void Tables_and_pictures_of_an_earlier_report_go_with_it()
    {
        ReportInput input = StoryTeller.Tell(null, new Story { Label = "One", Charges = 6, SamplesPerCharge = 40 });
        string data = Directory.CreateDirectory(Path.Combine(_folder, "data")).FullName;
        ReportFolder.Settle(_folder, [.. ReportWriter.Write(input, _folder), .. ReportData.WriteCsv(input, data)]);
        Assert.NotEmpty(Directory.GetFiles(data));
        Write("One");
        Assert.Empty(Directory.GetFiles(data));
    }

    [Fact]
    public void A_page_that_somebody_changed_or_put_there_stays()
    {
        Write("One", "Two", "Three");
        File.AppendAllText(Path.Combine(_folder, "pack-two.html"), "<!-- my note -->");
        File.WriteAllText(Path.Combine(_folder, "pack-mine.html"), "mine");
        File.WriteAllText(Path.Combine(_folder, "holiday.jpg"), "mine too");
        Assert.Equal(["pack-three.html"], Write("One").Select(Path.GetFileName));
        Assert.Equal(["holiday.jpg", "index.html", "pack-mine.html", "pack-one.html", "pack-two.html", ReportFolder.ListName], Files());
    }

    [Fact]
    public void A_list_that_names_what_no_report_writes_removes_nothing()
    {
        string outside = Path.Combine(_folder, "outside.html");
        string inside = Directory.CreateDirectory(Path.Combine(_folder, "report")).FullName;
        string notes = Path.Combine(inside, "notes.txt");
        File.WriteAllText(outside, "x");
        File.WriteAllText(notes, "x");
        const string digestOfX = "2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881"; // SHA-256 of "x", by sha256sum
        File.WriteAllText(
            Path.Combine(inside, ReportFolder.ListName),
            $$"""{"files":[{"name":"../outside.html","sha256":"{{digestOfX}}"},{"name":"notes.txt","sha256":"{{digestOfX}}"},{"name":"{{outside}}","sha256":"{{digestOfX}}"},null,{"name":null,"sha256":null}]}""");
        Assert.Empty(ReportFolder.Settle(inside, []));
        Assert.True(File.Exists(outside));
        Assert.True(File.Exists(notes));
    }

    [Fact]
    public void What_a_link_leads_to_stays()
    {
        Write("One", "Two");
        string kept = Path.Combine(_folder, "kept-elsewhere");
        File.Move(Path.Combine(_folder, "pack-two.html"), kept);
        try
        {
            File.CreateSymbolicLink(Path.Combine(_folder, "pack-two.html"), kept);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            Assert.Skip("This system lets no ordinary user make a symbolic link.");
        }

        Assert.Empty(Write("One"));
        Assert.True(File.Exists(kept));
    }

    [Theory]
    [InlineData("")]
    [InlineData("not a list")]
    [InlineData("{\"files\":3}")]
    [InlineData("null")]
    [InlineData("[]")]
    public void A_damaged_list_proves_nothing(string list)
    {
        Write("One", "Two");
        File.WriteAllText(Path.Combine(_folder, ReportFolder.ListName), list);
        Assert.Empty(Write("One"));
        Assert.Contains("pack-two.html", Files());
    }

    [Fact]
    public void A_folder_with_an_overview_of_somebody_elses_is_not_free()
    {
        Assert.True(ReportFolder.IsFree(_folder));
        Assert.True(ReportFolder.IsFree(Path.Combine(_folder, "not there yet")));
        Write("One");
        Assert.True(ReportFolder.IsFree(_folder));
        File.WriteAllText(Path.Combine(_folder, "index.html"), "<h1>My site</h1>");
        Assert.False(ReportFolder.IsFree(_folder));
    }

    private IReadOnlyList<string> Write(params string[] labels) =>
        ReportFolder.Settle(_folder, ReportWriter.Write(StoryTeller.Tell(null, labels.Select(label => new Story { Label = label, Charges = 0 })), _folder));

    private string[] Files() => [.. Directory.GetFiles(_folder).Select(path => Path.GetFileName(path)).Order(StringComparer.Ordinal)];
}
