using System.Diagnostics;
using System.Globalization;
using PackCare.Report.Tests.Fixtures;

namespace PackCare.Report.Tests;

public class SpeedOfReports(ITestOutputHelper output)
{
    [Fact]
    public void Sixty_packs_of_a_hundred_and_fifty_sessions_take_under_five_seconds()
    {
        if (Environment.GetEnvironmentVariable("PACKCARE_MEASURE") != "1")
        {
            Assert.Skip("A measurement, not a check; set PACKCARE_MEASURE to 1 and build with -c Release.");
        }

        ReportInput input = StoryTeller.Tell(null, Enumerable.Range(1, 60).Select(number => new Story
        {
            Label = "Pack " + number.ToString(CultureInfo.InvariantCulture),
            Cells = 3 + (number % 4),
            Charges = 150,
            DriftMillivolts = number % 5 == 0 ? -0.3 : 0,
            SamplesPerCharge = 3600,
        }));
        string folder = Directory.CreateTempSubdirectory("packcare-speed-").FullName;
        try
        {
            ReportWriter.Write(StoryTeller.Everything(), folder);
            var watch = Stopwatch.StartNew();
            ReportWriter.Write(input, folder);
            watch.Stop();
            long bytes = Directory.GetFiles(folder).Sum(path => new FileInfo(path).Length);
            using Process self = Process.GetCurrentProcess();
            output.WriteLine($"{watch.Elapsed.TotalSeconds:F2} s on {Environment.ProcessorCount} processors, {bytes / 1e6:F1} MB written, {self.PeakWorkingSet64 / 1e6:F0} MB memory at most in the whole test process");
            Assert.True(watch.Elapsed < TimeSpan.FromSeconds(5), watch.Elapsed.ToString());
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
