namespace PackCare.Analysis.FullCharge;

/// <summary>What one record says of the pack's level.</summary>
/// <param name="From">When the record begins.</param>
/// <param name="To">When it ends.</param>
/// <param name="VoltsBefore">Mean rest voltage of a cell when it begins, or null.</param>
/// <param name="VoltsAfter">Mean rest voltage of a cell when it ends, or null.</param>
/// <param name="InUse">Whether the pack was charged, discharged or run.</param>
internal sealed record Sighting(DateTimeOffset From, DateTimeOffset To, double? VoltsBefore, double? VoltsAfter, bool InUse);
