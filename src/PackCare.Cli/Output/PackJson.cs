using System.Globalization;
using PackCare.Core.Packs;

namespace PackCare.Cli.Output;

/// <summary>A pack for programs.</summary>
internal static class PackJson
{
    /// <summary>The pack as it was entered.</summary>
    public static object Of(Pack pack)
    {
        PackDetails details = pack.Details;
        return new
        {
            details.Label,
            details.Cells,
            details.Parallel,
            details.Chemistry,
            CapacityAh = details.RatedCapacity?.Value,
            RatingC = details.RatedDischargeC,
            Bought = details.Bought?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
            details.Price,
            details.Currency,
            details.Vehicle,
            details.Connector,
            AddedUtc = JsonText.Utc(pack.Added),
            RetiredUtc = JsonText.Utc(pack.Retirement?.At),
            RetiredReason = pack.Retirement?.Reason,
        };
    }
}
