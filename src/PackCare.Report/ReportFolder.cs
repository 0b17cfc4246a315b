using System.Security.Cryptography;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.RegularExpressions;
using PackCare.Report.Pages;

namespace PackCare.Report;

/// <summary>
/// Keeps a folder to one report. Beside the pages lies a list of what was written, with a digest each; what an earlier
/// report left behind is removed where name and digest prove that it is ours and as we wrote it. Nothing else is touched.
/// </summary>
public static partial class ReportFolder
{
    /// <summary>Name of the list.</summary>
    public const string ListName = "packcare-report.json";

    /// <summary>Whether a report may be written there: the folder has no overview yet, or one that is ours.</summary>
    /// <exception cref="IOException">The overview cannot be read.</exception>
    /// <exception cref="UnauthorizedAccessException">The overview may not be read.</exception>
    public static bool IsFree(string folder)
    {
        string overview = Path.Combine(folder, ReportWriter.OverviewFileName);
        return !Path.Exists(overview) || (File.Exists(overview) && File.ReadAllText(overview).Contains(PageShell.MadeBy, StringComparison.Ordinal));
    }

    /// <summary>Removes what an earlier report wrote and this one did not, and lists what this one wrote.</summary>
    /// <param name="folder">The folder of the report.</param>
    /// <param name="written">Full paths of what was written now, all inside the folder.</param>
    /// <returns>Paths of what was removed.</returns>
    /// <exception cref="IOException">A file cannot be read, written or removed.</exception>
    /// <exception cref="UnauthorizedAccessException">A file may not be read, written or removed.</exception>
    public static IReadOnlyList<string> Settle(string folder, IReadOnlyList<string> written)
    {
        string list = Path.Combine(folder, ListName);
        Dictionary<string, string> ours = written.AsParallel().ToDictionary(path => NameIn(folder, path), Digest);
        var removed = new List<string>();
        foreach ((string name, string digest) in Listed(list))
        {
            string path = Path.Combine(folder, name);
            if (!ours.ContainsKey(name) && OurName().IsMatch(name) && IsPlainFile(path) && Digest(path) == digest)
            {
                File.Delete(path);
                removed.Add(path);
            }
        }

        // Put in place whole: a list cut short would leave pages behind that nobody claims.
        string draft = list + ".new";
        using (FileStream stream = File.Create(draft))
        {
            JsonSerializer.Serialize(stream, new Contents([.. ours.OrderBy(file => file.Key, StringComparer.Ordinal).Select(file => new Entry(file.Key, file.Value))]), ListJson.Default.Contents);
        }

        File.Move(draft, list, overwrite: true);
        return removed;
    }

    private static IEnumerable<KeyValuePair<string, string>> Listed(string list)
    {
        if (!IsPlainFile(list))
        {
            return [];
        }

        try
        {
            using FileStream stream = File.OpenRead(list);
            IReadOnlyList<Entry>? files = JsonSerializer.Deserialize(stream, ListJson.Default.Contents)?.Files;
            return (files ?? []).Where(file => file is { Name: not null, Sha256: not null }).Select(file => KeyValuePair.Create(file.Name, file.Sha256));
        }
        catch (JsonException)
        {
            // Not a list of ours, or a damaged one: then nothing can be proved, and nothing is removed.
            return [];
        }
    }

    // Never through a link to somewhere else.
    private static bool IsPlainFile(string path) =>
        new FileInfo(path) is { Exists: true, LinkTarget: null, Directory.LinkTarget: null };

    private static string NameIn(string folder, string path) => Path.GetRelativePath(folder, path).Replace('\\', '/');

    private static string Digest(string path)
    {
        using FileStream stream = File.OpenRead(path);
        return Convert.ToHexStringLower(SHA256.HashData(stream));
    }

    // The names that reports have, and none that leads out of the folder.
    [GeneratedRegex(@"^(index|pack[a-z0-9-]*)\.html\z|^data/[a-z0-9-]+\.csv\z|^pictures/pack[a-z0-9-]*\.png\z")]
    private static partial Regex OurName();

    private sealed record Contents(IReadOnlyList<Entry> Files);

    private sealed record Entry(string Name, string Sha256);

    [JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, WriteIndented = true)]
    [JsonSerializable(typeof(Contents))]
    private sealed partial class ListJson : JsonSerializerContext;
}
