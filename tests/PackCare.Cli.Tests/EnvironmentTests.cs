using PackCare.Cli.Tests.Running;

namespace PackCare.Cli.Tests;

/// <summary>The machine's language, zone and fonts change nothing.</summary>
public sealed class EnvironmentTests(DemoFixture plain)
{
    [Fact]
    public void The_demo_prints_the_same_in_german_far_east_of_utc_and_without_fonts()
    {
        DirectoryInfo folder = Directory.CreateTempSubdirectory("packcare-elsewhere-");
        try
        {
            string noFonts = Path.Combine(folder.FullName, "fonts.conf");
            File.WriteAllText(noFonts, "<?xml version=\"1.0\"?><fontconfig></fontconfig>");
            var elsewhere = new Dictionary<string, string?>
            {
                ["LANG"] = "de_DE.UTF-8",
                ["LC_ALL"] = "de_DE.UTF-8",
                ["TZ"] = "Pacific/Kiritimati",
                ["FONTCONFIG_FILE"] = noFonts,
            };

            Outcome outcome = PackCareProcess.Run(Repository.Root, elsewhere, "demo", folder.FullName).Expect(0);

            Assert.Equal(WithoutPaths(plain.Demo.Out), WithoutPaths(outcome.Out));
            Assert.Equal(Pages(plain.Report), Pages(Path.Combine(folder.FullName, "report")));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static string WithoutPaths(string text) =>
        string.Join('\n', text.Split('\n').Where(line => !line.StartsWith("History:", StringComparison.Ordinal) && !line.StartsWith("Report:", StringComparison.Ordinal)));

    // The bytes of every page: a chart that lost its text, or a date that moved, shows here.
    private static IEnumerable<string> Pages(string folder) =>
        Directory.GetFiles(folder).Order(StringComparer.Ordinal).Select(file => Path.GetFileName(file) + "\n" + File.ReadAllText(file));
}
