using PackCare.Core.Packs;

namespace PackCare.Cli.Output;

/// <summary>Says in words what a pack is.</summary>
internal static class PackText
{
    /// <summary>For instance <c>4S lipo, 5000 mAh</c>.</summary>
    public static string Describe(Pack pack)
    {
        string capacity = pack.Details.RatedCapacity is { } rated ? ", " + Figures.Number(rated.MilliampereHours, 0) + " mAh" : string.Empty;
        return $"{Cells(pack)} {Words.Of(pack.Details.Chemistry)}{capacity}";
    }

    /// <summary>For instance <c>4S</c> or <c>6S2P</c>.</summary>
    public static string Cells(Pack pack) =>
        pack.Details.Parallel == 1 ? $"{pack.Details.Cells}S" : $"{pack.Details.Cells}S{pack.Details.Parallel}P";
}
