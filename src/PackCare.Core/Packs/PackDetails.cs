using PackCare.Core.Units;

namespace PackCare.Core.Packs;

/// <summary>What an owner states about a pack; nothing here is measured.</summary>
/// <param name="Label">The owner's name for the pack, unique in a history without regard to case; 1 to 60 characters.</param>
/// <param name="Cells">Cells in series (S count), 1 to 24.</param>
/// <param name="Parallel">Cells in parallel (P count), 1 or more.</param>
/// <param name="Chemistry">The chemistry.</param>
/// <param name="RatedCapacity">Capacity as printed on the pack, or null where it is not known.</param>
/// <param name="RatedDischargeC">The printed discharge rating in multiples of capacity per hour, or null.</param>
/// <param name="Bought">Day of purchase, or null.</param>
/// <param name="Price">What it cost, or null.</param>
/// <param name="Currency">ISO 4217 code of the price, or null.</param>
/// <param name="Vehicle">Where it is used, free text, or null.</param>
/// <param name="Connector">Its connector, free text, or null.</param>
public sealed record PackDetails(
    string Label,
    int Cells,
    int Parallel = 1,
    Chemistry Chemistry = Chemistry.LiPo,
    AmpereHours? RatedCapacity = null,
    double? RatedDischargeC = null,
    DateOnly? Bought = null,
    decimal? Price = null,
    string? Currency = null,
    string? Vehicle = null,
    string? Connector = null);
