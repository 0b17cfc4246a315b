using PackCare.Core.Packs;

namespace PackCare.Cli.Output;

/// <summary>Says in words what a pack is.</summary>
internal static class PackText
{
    /// <summary>For instance <c>4S lipo, 5000 mAh</c>.</summary>
    public static string Describe(Pack pack)
    {
        PackDetails details = pack.Details;
        string cells = details.Parallel == 1 ? $"{details.Cells}S" : $"{details.Cells}S{details.Parallel}P";
        string capacity = details.RatedCapacity is { } rated ? ", " + Figures.Number(rated.MilliampereHours, 0) + " mAh" : string.Empty;
        return $"{cells} {Words.Of(details.Chemistry)}{capacity}";
    }
}
