using System.Runtime.InteropServices;
using PackCare.Cli.Tests.Running;

namespace PackCare.Cli.Tests;

/// <summary>The program as it is published, compiled ahead as a whole: it prints and writes what the one built with these tests does.</summary>
public sealed class PublishedProgramTests(PublishedProgramTests.Published published, DemoFixture demo) : IClassFixture<PublishedProgramTests.Published>
{
    [Fact]
    public void The_demo_prints_and_draws_the_same()
    {
        Outcome played = published.Run("demo", published.Demo).Expect(0);

        Assert.Equal(demo.Demo.Out.Replace(Path.GetDirectoryName(demo.History)!, published.Demo, StringComparison.Ordinal), played.Out);
        Assert.Equal(demo.Demo.Error, played.Error);
        string[] drawn = Files(demo.Report);
        Assert.NotEmpty(drawn);
        Assert.Equal(drawn, Files(Path.Combine(published.Demo, "report")));
        Assert.All(drawn, file => Assert.True(
            File.ReadAllBytes(Path.Combine(demo.Report, file)).AsSpan().SequenceEqual(File.ReadAllBytes(Path.Combine(published.Demo, "report", file))),
            $"{file} is another"));
    }

    [Fact]
    public void Every_screen_and_every_result_for_programs_is_the_same()
    {
        string copy = published.CopyOf(demo.History);
        string odd = Path.Combine(published.Folder, "odd.csv");
        File.WriteAllText(odd, "time_s;cell1_v;cell2_v\n0;3,701;3,702\n1;3,702;3,70x\n2;3,703;3,704\n");
        string[][] commands =
        [
            ["due"], ["list"], ["assign"], ["doctor"], ["--help"], ["--version"], ["list", "--dates", "dmy"],
            ["import", "--dry-run", Repository.SampleLogs], ["import", "--dry-run", odd], ["import", Path.Combine(Repository.SampleLogs, "none.csv")],
            .. demo.Labels.Select(label => new string[] { "show", label }),
            .. demo.Labels.Take(3).SelectMany(label => new string[][] { ["why", label], ["drawn", label, "--to", "3.3"] }),
        ];
        foreach (string[] command in commands)
        {
            foreach (string[] form in new string[][] { command, [.. command, "--json"] })
            {
                string[] whole = [.. form, "--history", copy, "--now", demo.Now];
                Outcome built = PackCareProcess.Run(Repository.Root, null, whole);
                Outcome ahead = published.Run(whole);

                Assert.Equal(built, ahead);
            }
        }
    }

    [Fact]
    public void What_it_changes_is_changed_the_same()
    {
        string guide = Path.Combine(Directory.CreateDirectory(Path.Combine(published.Folder, "guides")).FullName, "day.guide.json");
        string log = Path.Combine(published.Folder, "charge.csv");
        File.Copy(Directory.EnumerateFiles(Repository.SampleLogs, "*.csv", SearchOption.AllDirectories).Order(StringComparer.Ordinal).First(), log);
        string[][] steps =
        [
            ["add", "Puffin", "--cells", "3", "--capacity", "2200", "--json"],
            ["add", "Gannet", "--cells", "4"],
            ["check", "Puffin", "3.81", "3.82", "3.80", "--json"],
            ["log", "Puffin", "note", "--text", "new leads", "--json"],
            ["import", log, "--dry-run", "--write-guide", guide],
            ["import", log, "--guide", guide, "--json"],
            ["import", log, "--json"],
            ["list", "--json"],
            ["retire", "Gannet", "--reason", "sold", "--json"],
            ["undo", "--json"],
            ["due", "--json"],
            ["doctor", "--json"],
        ];
        string[] histories = [Path.Combine(published.Folder, "one", "history.db"), Path.Combine(published.Folder, "two", "history.db")];
        foreach (string[] step in steps)
        {
            Outcome built = PackCareProcess.Run(Repository.Root, null, [.. step, "--history", histories[0], "--now", demo.Now]);
            string? written = File.Exists(guide) ? File.ReadAllText(guide) : null;
            if (step.Contains("--write-guide"))
            {
                // A guide that is there is never overwritten.
                File.Delete(guide);
            }

            Outcome ahead = published.Run([.. step, "--history", histories[1], "--now", demo.Now]);

            Assert.Equal(built, ahead with { Out = ahead.Out.Replace(histories[1], histories[0], StringComparison.Ordinal) });
            Assert.Equal(written, File.Exists(guide) ? File.ReadAllText(guide) : null);
        }
    }

    private static string[] Files(string folder) =>
        [.. Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories).Select(file => Path.GetRelativePath(folder, file)).Order(StringComparer.Ordinal)];

    /// <summary>The program, published once.</summary>
    public sealed class Published : IDisposable
    {
        private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("packcare-published-");

        private string? _program;

        /// <summary>A folder for whatever it writes.</summary>
        public string Folder => _folder.FullName;

        /// <summary>A folder for its demo.</summary>
        public string Demo => Path.Combine(_folder.FullName, "demo");

        /// <summary>Runs it.</summary>
        public Outcome Run(params string[] arguments) => PackCareProcess.Run(_program ??= Publish(), Repository.Root, null, arguments);

        /// <summary>A history of its own, as that one is now.</summary>
        public string CopyOf(string history)
        {
            string copy = Path.Combine(_folder.FullName, "copy.db");
            PackCareProcess.Run(Repository.Root, null, "backup", copy, "--history", history).Expect(0);
            return copy;
        }

        /// <inheritdoc/>
        public void Dispose() => _folder.Delete(recursive: true);

        private string Publish()
        {
            Assert.SkipUnless(OperatingSystem.IsLinux() && (HasProgram("clang") || HasProgram("gcc")), "it takes a linker to publish the program, clang or gcc");
            string folder = Path.Combine(_folder.FullName, "program");
            Outcome outcome = Shell.Run(
                $"""
                cd '{Repository.Root}'
                dotnet publish src/PackCare.Cli -c Release -r {RuntimeInformation.RuntimeIdentifier} -o '{folder}' -v q
                """,
                patience: TimeSpan.FromMinutes(8));
            Assert.SkipWhen(outcome.ExitCode != 0 && outcome.Out.Contains("error NU1", StringComparison.Ordinal), "the package with the compiler cannot be had");
            outcome.Expect(0);
            return Path.Combine(folder, "packcare");
        }

        private static bool HasProgram(string name) =>
            (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator).Any(folder => File.Exists(Path.Combine(folder, name)));
    }
}
