using System.Text.Json.Serialization;

namespace PackCare.SampleLogs;

/// <summary>The roster of the set: what an owner states and writes down besides logs.</summary>
/// <param name="About">What this is.</param>
/// <param name="Now">The moment for which the demonstration is meant.</param>
/// <param name="Packs">The packs.</param>
/// <param name="SpotChecks">Cell voltages read by hand, in order of time.</param>
/// <param name="Entries">What was written down, in order of time.</param>
internal sealed record Fleet(
    string About,
    DateTimeOffset Now,
    IReadOnlyList<FleetPack> Packs,
    IReadOnlyList<FleetCheck> SpotChecks,
    IReadOnlyList<FleetEntry> Entries);

/// <summary>A pack as its owner states it.</summary>
internal sealed record FleetPack(
    string Label,
    int Cells,
    int Parallel,
    string Chemistry,
    int CapacityMah,
    double RatingC,
    DateOnly Bought,
    decimal Price,
    string Currency,
    string Vehicle,
    string Connector);

/// <summary>A spot check.</summary>
internal sealed record FleetCheck(
    string Pack,
    DateTimeOffset At,
    IReadOnlyList<double> Volts,
    double? Celsius,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] IReadOnlyList<double>? Milliohms);

/// <summary>An entry of the diary.</summary>
internal sealed record FleetEntry(
    string Pack,
    DateTimeOffset At,
    string Kind,
    bool Swollen,
    bool Damaged,
    double? MaxCelsius,
    string? Text);
