using PackCare.Core.Packs;
using PackCare.Core.Units;

namespace PackCare.Cli.Demo;

/// <summary>A pack of the demo. Capacity in mAh; the rest as <see cref="PackDetails"/> has it.</summary>
internal sealed record FleetPack(
    string Label,
    int Cells,
    int Parallel,
    Chemistry Chemistry,
    double? CapacityMah,
    double? RatingC,
    DateOnly? Bought,
    decimal? Price,
    string? Currency,
    string? Vehicle,
    string? Connector)
{
    /// <summary>What its owner states.</summary>
    public PackDetails ToDetails() => new(
        Label,
        Cells,
        Parallel,
        Chemistry,
        CapacityMah is { } capacity ? AmpereHours.FromMilliampereHours(capacity) : null,
        RatingC,
        Bought,
        Price,
        Currency,
        Vehicle,
        Connector);
}
