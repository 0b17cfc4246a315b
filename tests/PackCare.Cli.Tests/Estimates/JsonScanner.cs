using System.Text.Json;

namespace PackCare.Cli.Tests.Estimates;

/// <summary>
/// Finds numbers in JSON that stand without an interval and a count. Every number is taken for an estimate, unless its key is listed here with
/// the reason why it is none. Beside "x" there must be "xLow", "xHigh" and "xCount", or "low", "high" and "count" of the object's one figure.
/// </summary>
public static class JsonScanner
{
    private static readonly Dictionary<string, string> NotEstimated = Listed(
        ("entered with the pack", "cells parallel capacityAh ratingC price ratedAh"),
        ("a number of something, or a name", "cell cells count session sessions have need furthestCell trendCell causeCell resistanceCell readings readingsNeeded residualDegreesOfFreedom samples line column lines header units comments footer blank dropped index"),
        ("a limit, threshold or reference that is set", "limit margin referenceCelsius referenceAh capacityReferenceAh thresholdVoltsPerCell fullThresholdVoltsPerCell watchRatio actRatio spreadWatchLimitMillivolts spreadRetireLimitMillivolts resistanceReferenceCelsius resistanceWatchRatio resistanceActRatio capacityWatchPercent capacityActPercent"),
        ("read from cell voltages at rest", "restSpreadMillivolts deviationMillivolts meanCellVolts"),
        ("a length of time by the calendar", "daysConfirmed daysPossible days currentSpellDays fullDaysConfirmed fullDaysPossible fullNowDays"),
        ("ends of the range of two published sources; the spells are listed beside", "extraLossPercentLow extraLossPercentHigh"),
        ("a plain count of logged charge; with its interval beside it where the capacity was measured", "throughputAh equivalentFullCycles drawnAh drawnToFirstSampleAh cutoffVolts"),
        ("how the reading was taken", "lagSeconds resistanceLagSeconds"),
        ("parts of an estimate", "low high standardError confidence"),
        ("parts of a fitted line, whose intercept and slope carry their intervals", "interceptSlopeCovariance"),
        ("the robust slope, a check that stands beside the fitted slope and its interval", "robustSlopePerDay"),
        ("samples as logged", "timeS currentA packV chargeAh tempC cell1V cell2V cell3V cell4V cell5V cell6V"));

    /// <summary>All such numbers, each with the path to it.</summary>
    public static IReadOnlyList<string> Bare(JsonElement element) => [.. Walk(element, "")];

    private static IEnumerable<string> Walk(JsonElement element, string path) => element.ValueKind switch
    {
        JsonValueKind.Array => element.EnumerateArray().SelectMany(item => Walk(item, path + "[]")),
        JsonValueKind.Object => Object(element, path),
        _ => [],
    };

    private static IEnumerable<string> Object(JsonElement element, string path)
    {
        foreach (JsonProperty property in element.EnumerateObject())
        {
            string at = $"{path}.{property.Name}";
            bool date = property.Name.EndsWith("ReachedUtc", StringComparison.Ordinal) || property.Name == "limitExpected";
            if (!IsPart(property.Name) && !NotEstimated.ContainsKey(property.Name) && (HoldsNumbers(property.Value) || (date && property.Value.ValueKind == JsonValueKind.String)) && !Carried(element, property, date))
            {
                yield return $"{at} = {property.Value} has no interval or no count.";
            }

            foreach (string inside in Walk(property.Value, at))
            {
                yield return inside;
            }
        }
    }

    private static bool Carried(JsonElement owner, JsonProperty property, bool date)
    {
        string name = property.Name switch
        {
            "limitExpected" => "limit",
            _ when property.Name.EndsWith("ReachedUtc", StringComparison.Ordinal) => property.Name[..^3],
            _ => property.Name,
        };
        string tail = property.Name.EndsWith("Utc", StringComparison.Ordinal) ? "Utc" : "";
        // The two contracts' names for "the figure of this object".
        bool own = property.Name is "value" or "milliohm" or "latestAh" or "perCycleMillivolts" or "capacityAh";
        if (property.Name == "value" && owner.TryGetProperty("code", out JsonElement code) && ReadCodes.Contains(code.GetString()))
        {
            return true;
        }

        // The upper end of a date may be open.
        return Has($"{name}Low{tail}", "low") && (date || Has($"{name}High{tail}", "high")) && Has($"{name}Count", "count");

        bool Has(string full, string brief) =>
            (owner.TryGetProperty(full, out JsonElement one) || (own && owner.TryGetProperty(brief, out one))) && one.ValueKind is JsonValueKind.Number or JsonValueKind.String or JsonValueKind.Array;
    }

    // Findings whose figure was read off an instrument or the calendar, or counted.
    private static readonly string?[] ReadCodes = ["low-cell", "over-voltage", "temperature", "full-spell", "never-balanced", "check-overdue", "too-little-data"];

    private static readonly string[] Parts = ["Low", "High", "Count", "LowUtc", "HighUtc", "StandardError", "Confidence"];

    private static bool IsPart(string name) => Parts.Any(end => name.EndsWith(end, StringComparison.Ordinal));

    private static bool HoldsNumbers(JsonElement value) =>
        value.ValueKind == JsonValueKind.Number || (value.ValueKind == JsonValueKind.Array && value.EnumerateArray().Any(item => item.ValueKind == JsonValueKind.Number));

    private static Dictionary<string, string> Listed(params (string Why, string Keys)[] kinds) =>
        kinds.SelectMany(kind => kind.Keys.Split(' ').Distinct().Select(key => (key, kind.Why))).DistinctBy(item => item.key).ToDictionary(item => item.key, item => item.Why);
}
