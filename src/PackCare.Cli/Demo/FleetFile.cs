using System.Text.Json;
using System.Text.Json.Serialization;

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

    private static readonly JsonSerializerOptions _options = new(JsonSerializerDefaults.Web)
    {
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase) },
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    };

    /// <summary>Reads it.</summary>
    /// <exception cref="IOException">It cannot be read or is not a roster.</exception>
    public static FleetFile Read(string path)
    {
        try
        {
            using FileStream stream = File.OpenRead(path);
            return JsonSerializer.Deserialize<FleetFile>(stream, _options) ?? throw new IOException($"{path} is empty; take it from the repository again.");
        }
        catch (JsonException fault)
        {
            throw new IOException($"{path} is not a demo roster ({fault.Message}); take it from the repository again.", fault);
        }
    }
}
