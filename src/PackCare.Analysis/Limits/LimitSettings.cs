using System.Text.Json;
using PackCare.Core.Packs;

namespace PackCare.Analysis.Limits;

/// <summary>A user's own limits, for all packs and for single ones.</summary>
public sealed class LimitSettings
{
    private readonly Dictionary<LimitKey, double> _all = [];
    private readonly LimitTable?[] _tables = new LimitTable?[(int)Chemistry.LiFePo4 + 1];
    private readonly Dictionary<string, Dictionary<LimitKey, double>> _packs = new(StringComparer.OrdinalIgnoreCase);

    private LimitSettings()
    {
    }

    /// <summary>No settings: the defaults everywhere.</summary>
    public static LimitSettings None { get; } = new();

    /// <summary>The limits in force for a pack: the chemistry's defaults, then the settings for all, then those for it.</summary>
    /// <param name="label">The pack's label, without regard to case.</param>
    /// <param name="chemistry">Its chemistry.</param>
    public LimitTable For(string label, Chemistry chemistry)
    {
        LimitTable table = _tables[(int)chemistry] ??= LimitTable.Default(chemistry).With(_all);
        return _packs.TryGetValue(label, out Dictionary<LimitKey, double>? own) ? table.With(own) : table;
    }

    /// <summary>What is set for a pack, in a fixed order; empty where nothing is. Two packs with the same defaults and the same text have the same limits.</summary>
    /// <param name="label">The pack's label, without regard to case.</param>
    public string Fingerprint(string label) => Text(_all) + (_packs.TryGetValue(label, out Dictionary<LimitKey, double>? own) ? "|" + Text(own) : string.Empty);

    /// <summary>
    /// Reads settings from JSON: <c>{"limits": {"rest-spread-watch-mV": 20}, "packs": {"Heron": {"capacity-retire-percent": 75}}}</c>.
    /// Comments and trailing commas are allowed. Names are those of <see cref="LimitTable"/>; the unit is in the name.
    /// </summary>
    /// <param name="json">The text.</param>
    /// <returns>The settings, and what is wrong with the text, a sentence each; with any problem nothing of it is to be used.</returns>
    public static (LimitSettings Settings, IReadOnlyList<string> Problems) Parse(string json)
    {
        var settings = new LimitSettings();
        var problems = new List<string>();
        try
        {
            using JsonDocument document = JsonDocument.Parse(json, new JsonDocumentOptions { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
            settings.Read(document.RootElement, problems);
        }
        catch (JsonException fault)
        {
            problems.Add($"line {fault.LineNumber + 1}, position {fault.BytePositionInLine + 1}: not JSON; see docs/settings.md for an example");
        }

        return problems.Count == 0 ? (settings, problems) : (None, problems);
    }

    private void Read(JsonElement root, List<string> problems)
    {
        if (root.ValueKind != JsonValueKind.Object)
        {
            problems.Add("the file must hold one object with \"limits\", \"packs\" or both");
            return;
        }

        foreach (JsonProperty property in root.EnumerateObject())
        {
            if (property.NameEquals("limits"))
            {
                ReadLimits(property.Value, "limits", _all, problems);
            }
            else if (property.NameEquals("packs") && property.Value.ValueKind == JsonValueKind.Object)
            {
                foreach (JsonProperty pack in property.Value.EnumerateObject())
                {
                    var own = new Dictionary<LimitKey, double>();
                    ReadLimits(pack.Value, $"packs, {pack.Name}", own, problems);
                    if (!_packs.TryAdd(pack.Name, own))
                    {
                        problems.Add($"packs: {pack.Name} comes twice");
                    }
                }
            }
            else
            {
                problems.Add($"\"{property.Name}\" is not known; the file may hold \"limits\" and \"packs\", both objects");
            }
        }
    }

    private static void ReadLimits(JsonElement element, string where, Dictionary<LimitKey, double> target, List<string> problems)
    {
        if (element.ValueKind != JsonValueKind.Object)
        {
            problems.Add($"{where}: must be an object of limits");
            return;
        }

        // Names and ranges are the same for every chemistry; only default values differ.
        Limit[] known = [.. LimitTable.Default(Chemistry.LiPo).All];
        foreach (JsonProperty property in element.EnumerateObject())
        {
            if (known.FirstOrDefault(limit => limit.Name.Equals(property.Name, StringComparison.OrdinalIgnoreCase)) is not { } limit)
            {
                problems.Add($"{where}: \"{property.Name}\" is no limit; nearest is \"{Nearest(property.Name, known)}\"");
            }
            else if (property.Value.ValueKind != JsonValueKind.Number || !property.Value.TryGetDouble(out double value))
            {
                problems.Add($"{where}: \"{limit.Name}\" must be a number in {limit.Unit}");
            }
            else if (!(value >= limit.Lowest && value <= limit.Highest))
            {
                problems.Add(string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{where}: \"{limit.Name}\" is {value}; it must lie between {limit.Lowest} and {limit.Highest} {limit.Unit}"));
            }
            else if (!target.TryAdd(limit.Key, value))
            {
                problems.Add($"{where}: \"{limit.Name}\" comes twice");
            }
        }
    }

    private static string Text(Dictionary<LimitKey, double> values) => values.Count == 0
        ? string.Empty
        : string.Join(' ', values.OrderBy(pair => pair.Key).Select(pair => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{pair.Key}={pair.Value:R}")));

    private static string Nearest(string name, Limit[] known) =>
        known.MaxBy(limit => limit.Name.Zip(name).TakeWhile(pair => char.ToLowerInvariant(pair.First) == char.ToLowerInvariant(pair.Second)).Count())!.Name;
}
