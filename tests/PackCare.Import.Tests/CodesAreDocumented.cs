using System.Text.RegularExpressions;

namespace PackCare.Import.Tests;

public partial class CodesAreDocumented
{
    [Fact]
    public void Every_code_of_a_refusal_or_notice_stands_in_the_documentation()
    {
        string documented = File.ReadAllText(Path.Combine(Repository.Root, "docs", "reading.md"));
        string[] codes = [.. Directory.GetFiles(Path.Combine(Repository.Root, "src", "PackCare.Import"), "*.cs", SearchOption.AllDirectories)
            .Where(file => !file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal))
            .SelectMany(file => Code().Matches(File.ReadAllText(file)).Select(match => match.Groups[1].Value)).Distinct()];

        Assert.True(codes.Length > 60, $"only {codes.Length} codes were found");
        Assert.All(codes, code => Assert.Contains($"`{code}`", documented, StringComparison.Ordinal));
    }

    // The first text that a call which makes a problem is given.
    [GeneratedRegex("(?:Refuse|Refused|Notice|InputProblem|new)\\(\\s*(?:[a-z]+, )?\"([a-z][a-z0-9]*(?:-[a-z0-9]+)+)\",")]
    private static partial Regex Code();
}
