using System.Text.Json;

namespace PackCare.Cli.Tests.Running;

/// <summary>What a run of the program left behind.</summary>
public sealed record Outcome(int ExitCode, string Out, string Error)
{
    /// <summary>Output lines, each parsed as JSON.</summary>
    public IReadOnlyList<JsonElement> JsonLines() =>
        [.. Out.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => JsonDocument.Parse(line).RootElement)];

    /// <summary>The only JSON value printed.</summary>
    public JsonElement Json() => Assert.Single(JsonLines());

    /// <summary>Fails with all that was printed where the exit code is another.</summary>
    public Outcome Expect(int exitCode)
    {
        Assert.True(exitCode == ExitCode, $"Exit code {ExitCode} where {exitCode} was expected.\n--- out\n{Out}\n--- error\n{Error}");
        Assert.DoesNotContain("   at PackCare", Out + Error, StringComparison.Ordinal);
        return this;
    }
}
