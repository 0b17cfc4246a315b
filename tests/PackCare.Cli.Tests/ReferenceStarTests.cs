using System.Reflection;

namespace PackCare.Cli.Tests;

/// <summary>The shape of the solution: a star, so that each third-party package has one owner and data flows one way.</summary>
public sealed class ReferenceStarTests
{
    [Theory]
    [InlineData("PackCare.Core", "", "")]
    [InlineData("PackCare.Import", "PackCare.Core", "CsvHelper")]
    [InlineData("PackCare.Store", "PackCare.Core", "Dapper Dapper.AOT Microsoft.Data.Sqlite SQLitePCLRaw.core")]
    [InlineData("PackCare.Analysis", "PackCare.Core", "MathNet.Numerics")]
    [InlineData("PackCare.Report", "PackCare.Analysis PackCare.Core", "QRCoder ScottPlot SkiaSharp")]
    [InlineData("packcare", "PackCare.Analysis PackCare.Core PackCare.Import PackCare.Report PackCare.Store", "Spectre.Console Spectre.Console.Ansi System.CommandLine")]
    public void An_assembly_sees_only_its_spokes_and_its_own_packages(string assembly, string ours, string packages)
    {
        string[] seen = [.. Assembly.Load(assembly).GetReferencedAssemblies().Select(name => name.Name!)];

        Assert.Equal(Words(ours), seen.Where(IsOurs).Order(StringComparer.Ordinal));
        Assert.Subset(Words(packages).ToHashSet(), seen.Where(name => !IsOurs(name) && !IsFramework(name)).ToHashSet());
    }

    private static string[] Words(string list) => list.Split(' ', StringSplitOptions.RemoveEmptyEntries);

    private static bool IsOurs(string name) => name.StartsWith("PackCare.", StringComparison.Ordinal);

    private static bool IsFramework(string name) =>
        name is "netstandard" or "mscorlib" || (name.StartsWith("System.", StringComparison.Ordinal) && name != "System.CommandLine");
}
