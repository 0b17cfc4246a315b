using PackCare.Cli.Tests.Estimates;
using PackCare.Cli.Tests.Running;

[assembly: AssemblyFixture(typeof(WeakPacks))]

namespace PackCare.Cli.Tests.Estimates;

/// <summary>Packs of which little is known: without a rated capacity, with a few sessions, with a spot check alone, with nothing at all.</summary>
public sealed class WeakPacks : IDisposable
{
    private readonly Bench _bench = new();

    /// <summary>Enters them.</summary>
    public WeakPacks()
    {
        string jetty = Path.Combine(Repository.SampleLogs, "jetty");
        Run("add", "Unrated", "--cells", "4", "--chemistry", "lihv");
        Run(["import", .. Directory.GetFiles(jetty, "Teal-*.csv"), "--pack", "Unrated"]);
        Run("add", "Few", "--cells", "2");
        Run(["import", .. Directory.GetFiles(jetty, "Dipper-2025*.csv"), "--pack", "Few"]);
        Run("add", "One", "--cells", "2", "--capacity", "1300");
        Run(["import", .. Directory.GetFiles(jetty, "Dipper-202603*.csv").Order(StringComparer.Ordinal).Take(1), "--pack", "One"]);
        Run("add", "Checked", "--cells", "3");
        Run("check", "Checked", "3.84", "3.80", "3.86", "--ir", "4.1,4.2,4.0");
        Run("add", "Nothing", "--cells", "2");
    }

    /// <summary>Their labels.</summary>
    public static IReadOnlyList<string> Labels => ["Unrated", "Few", "One", "Checked", "Nothing"];

    /// <summary>Runs a command on their history.</summary>
    public Outcome Run(params string[] arguments) => _bench.Run(arguments).Expect(0);

    /// <summary>A new folder beside it.</summary>
    public string NewFolder(string name) => Path.Combine(_bench.Folder, name);

    /// <inheritdoc/>
    public void Dispose() => _bench.Dispose();
}
