using System.Text.Json;

namespace PackCare.Cli.Demo;

/// <summary>The roster of the demo: its packs, and what was written down about them by hand.</summary>
/// <param name="About">What the data are: invented.</param>
/// <param name="Now">The moment at which the demo plays.</param>
/// <param name="Packs">The packs.</param>
/// <param name="SpotChecks">Spot checks.</param>
/// <param name="Entries">Diary entries.</param>
internal sealed record FleetFile(
    string About,
    DateTimeOffset Now,
    IReadOnlyList<FleetPack> Packs,
    IReadOnlyList<FleetSpotCheck> SpotChecks,
    IReadOnlyList<FleetEntry> Entries)
{
    /// <summary>Its name in the folder of logs.</summary>
    public const string Name = "fleet.json";

    /// <summary>Reads it.</summary>
    /// <exception cref="IOException">It cannot be read or is not a roster.</exception>
    public static FleetFile Read(string path)
    {
        try
        {
            using FileStream stream = File.OpenRead(path);
            return JsonSerializer.Deserialize(stream, FleetJson.Default.FleetFile) ?? throw new IOException($"{path} is empty; take it from the repository again.");
        }
        catch (JsonException fault)
        {
            throw new IOException($"{path} is not a demo roster ({fault.Message}); take it from the repository again.", fault);
        }
    }
}
