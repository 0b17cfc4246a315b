using PackCare.Cli.Tests.Running;

namespace PackCare.Cli.Tests;

/// <summary>The package that <c>dotnet tool install</c> takes, from a feed that is a folder, with nothing of the machine's own but the SDK.</summary>
public sealed class ToolPackageTests
{
    [Fact]
    public void The_tool_package_installs_from_a_local_feed_and_runs()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "written for a POSIX shell");
        DirectoryInfo folder = Directory.CreateTempSubdirectory("packcare-tool-");
        try
        {
            string configuration = AppContext.BaseDirectory.Contains("/Release/", StringComparison.Ordinal) ? "Release" : "Debug";
            string feed = Path.Combine(folder.FullName, "feed");
            string settings = Path.Combine(folder.FullName, "NuGet.config");
            File.WriteAllText(settings, $"""
                <configuration>
                  <packageSources><clear /><add key="local" value="{feed}" /></packageSources>
                </configuration>
                """);

            Shell.Run(
                $"""
                set -e
                export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 DOTNET_SKIP_FIRST_TIME_EXPERIENCE=1
                cd '{Repository.Root}'
                dotnet pack src/PackCare.Cli -c {configuration} --no-build -o '{feed}' -v q
                cd '{folder.FullName}'
                NUGET_PACKAGES='{folder.FullName}/packages' dotnet tool install packcare --tool-path tool --configfile '{settings}'
                """).Expect(0);
            string tool = $"'{folder.FullName}/tool/packcare'";
            string history = $"--history '{folder.FullName}/history.db'";

            Assert.Equal(PackCareProcess.Run(folder.FullName, null, "--version").Expect(0).Out, Shell.Run($"{tool} --version").Expect(0).Out);
            Shell.Run($"{tool} add Puffin --cells 3 --capacity 2200 {history}").Expect(0);
            Shell.Run($"{tool} import '{Repository.SampleLogs}' --dry-run {history}").Expect(0);
            Assert.Contains("Puffin", Shell.Run($"{tool} list {history}").Expect(0).Out, StringComparison.Ordinal);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}
