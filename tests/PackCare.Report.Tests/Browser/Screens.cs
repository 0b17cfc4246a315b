namespace PackCare.Report.Tests.Browser;

/// <summary>The screens on which every page is looked at.</summary>
public static class Screens
{
    /// <summary>Width in CSS pixels (a telephone, a tablet, a desk), and whether a dark page is asked for.</summary>
    public static TheoryData<int, bool> All => new()
    {
        { 360, false }, { 360, true },
        { 768, false }, { 768, true },
        { 1440, false }, { 1440, true },
    };
}
