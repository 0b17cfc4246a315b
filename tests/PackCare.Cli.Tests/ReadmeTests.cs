using System.Diagnostics;
using System.Text.RegularExpressions;
using PackCare.Cli.Tests.Running;

namespace PackCare.Cli.Tests;

/// <summary>The README's commands do what it shows.</summary>
public sealed partial class ReadmeTests(DemoFixture demo)
{
    private const string Prompt = "$ ";
    private const string Program = "dotnet run --project src/PackCare.Cli -- ";

    [Fact]
    public async Task The_first_command_runs_as_it_stands_there()
    {
        Assert.Contains(Blocks().SelectMany(block => block.Split('\n')), line => line == "dotnet run --project src/PackCare.Cli -- demo");
        Assert.Contains(Blocks().SelectMany(block => block.Split('\n')), line => line == "dotnet test");

        // The command of the README itself, SDK and all; the other test command is what runs this test.
        var start = new ProcessStartInfo("dotnet", ["run", "--project", "src/PackCare.Cli", "--", "demo"])
        {
            WorkingDirectory = Repository.Root,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            StandardOutputEncoding = System.Text.Encoding.UTF8,
        };
        using Process process = Process.Start(start)!;
        CancellationToken cancelled = TestContext.Current.CancellationToken;
        Task<string> error = process.StandardError.ReadToEndAsync(cancelled);
        string output = (await process.StandardOutput.ReadToEndAsync(cancelled)).ReplaceLineEndings("\n");
        await process.WaitForExitAsync(cancelled);

        Assert.True(process.ExitCode == 0, output + await error);
        Assert.Equal(WithoutPaths(demo.Demo.Out), WithoutPaths(output));
        string page = output.Split('\n').Single(line => line.StartsWith("Report:", StringComparison.Ordinal))["Report:".Length..].Trim();
        Assert.True(File.Exists(page), page);
    }

    [Fact]
    public void Every_tour_command_prints_what_is_shown()
    {
        var steps = Blocks().Where(block => block.StartsWith(Prompt, StringComparison.Ordinal)).SelectMany(Steps).ToList();
        Assert.True(steps.Count >= 4, "The tour has fewer steps than a tour.");
        foreach ((string command, string shown) in steps)
        {
            string[] arguments = [.. Argument().Matches(command).Select(match => match.Value.Trim('"'))];
            Outcome outcome = arguments[0] == "demo" ? demo.Demo : demo.Run(arguments);
            string printed = WithoutPaths(outcome.Out + outcome.Error).TrimEnd();

            // "..." on a line of its own stands for lines left out.
            int from = 0;
            foreach (string part in shown.Split("\n...\n"))
            {
                int at = printed.IndexOf(part.Trim('\n'), from, StringComparison.Ordinal);
                Assert.True(at >= 0, $"README shows, for '{command}':\n{part}\nbut it printed:\n{printed}");
                from = at + part.Length;
            }
        }
    }

    private static IEnumerable<(string Command, string Shown)> Steps(string block) =>
        block.Split("\n" + Prompt)
            .Select(step => step.StartsWith(Prompt, StringComparison.Ordinal) ? step[Prompt.Length..] : step)
            .Select(step => step.Split('\n', 2))
            .Select(parts => (Command(parts[0]), WithoutPaths(parts.Length > 1 ? parts[1] : string.Empty)));

    private static string Command(string line)
    {
        Assert.StartsWith(Program, line, StringComparison.Ordinal);
        return line[Program.Length..];
    }

    private static List<string> Blocks() =>
        [.. Fence().Matches(File.ReadAllText(Path.Combine(Repository.Root, "README.md")).ReplaceLineEndings("\n")).Select(match => match.Groups[1].Value.TrimEnd('\n'))];

    private static string WithoutPaths(string text) =>
        string.Join('\n', text.Split('\n').Select(line => line.TrimEnd()).Where(line => !line.StartsWith("History:", StringComparison.Ordinal) && !line.StartsWith("Report:", StringComparison.Ordinal)));

    [GeneratedRegex("^```[a-z]*\n(.*?)^```", RegexOptions.Multiline | RegexOptions.Singleline)]
    private static partial Regex Fence();

    [GeneratedRegex("\"[^\"]*\"|[^ ]+")]
    private static partial Regex Argument();
}
