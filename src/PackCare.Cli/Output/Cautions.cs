namespace PackCare.Cli.Output;

/// <summary>Standing cautions. Common practice and fire-service advice; the maker's instructions and local rules come first.</summary>
internal static class Cautions
{
    /// <summary>Before a pack is thrown away.</summary>
    public const string Disposal =
        "Disposal: never in household waste. Tape over the contacts, keep it away from anything that burns, and hand it in at a battery collection point; follow the maker's instructions and local rules. Ask there first if it is swollen or damaged.";

    /// <summary>Under every due list.</summary>
    public const string Charging =
        "Charge only while you watch, on a surface that cannot burn, neither cold (below 0 degC) nor hot (above 40 degC); never a pack that is swollen, damaged, hot or smells. The maker's instructions and local rules come first. No standing here means that a pack is free of danger.";
}
