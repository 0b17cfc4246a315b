using PackCare.Report.Tests.Fixtures;

namespace PackCare.Report.Tests;

public class ReportFiles
{
    [Fact]
    public void A_report_is_an_overview_and_a_page_a_pack()
    {
        string folder = Environment.GetEnvironmentVariable("PACKCARE_REPORT_OUT") ?? Directory.CreateTempSubdirectory("packcare-report-").FullName;
        Directory.CreateDirectory(folder);
        ReportInput input = StoryTeller.Everything();

        IReadOnlyList<string> paths = ReportWriter.Write(input, folder);

        Assert.Equal("index.html", Path.GetFileName(paths[0]));
        Assert.Equal(input.Packs.Count + 1, paths.Count);
        Assert.All(paths, path => Assert.True(new FileInfo(path).Length > 5000, path));
    }
}
