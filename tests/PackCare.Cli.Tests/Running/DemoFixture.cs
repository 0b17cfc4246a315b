using System.Text.Json;
using PackCare.Cli.Tests.Running;

[assembly: AssemblyFixture(typeof(DemoFixture))]

namespace PackCare.Cli.Tests.Running;

/// <summary>The demo, played once for all tests that look at it.</summary>
public sealed class DemoFixture : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("packcare-demo-test-");

    /// <summary>Plays the demo.</summary>
    public DemoFixture()
    {
        Demo = PackCareProcess.Run(Repository.Root, null, "demo", _folder.FullName).Expect(0);
        using JsonDocument fleet = JsonDocument.Parse(File.ReadAllText(Path.Combine(Repository.SampleLogs, "fleet.json")));
        Now = fleet.RootElement.GetProperty("now").GetString()!;
        Labels = [.. fleet.RootElement.GetProperty("packs").EnumerateArray().Select(pack => pack.GetProperty("label").GetString()!)];
    }

    /// <summary>What the demo printed.</summary>
    public Outcome Demo { get; }

    /// <summary>The moment at which it plays.</summary>
    public string Now { get; }

    /// <summary>Labels of its packs.</summary>
    public IReadOnlyList<string> Labels { get; }

    /// <summary>Its history.</summary>
    public string History => Path.Combine(_folder.FullName, "history.db");

    /// <summary>The folder of its report.</summary>
    public string Report => Path.Combine(_folder.FullName, "report");

    /// <summary>Runs a command on the demo's history.</summary>
    public Outcome Run(params string[] arguments) =>
        PackCareProcess.Run(Repository.Root, null, [.. arguments, "--history", History, "--now", Now]);

    /// <inheritdoc/>
    public void Dispose() => _folder.Delete(recursive: true);
}
