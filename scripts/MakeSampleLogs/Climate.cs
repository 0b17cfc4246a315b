namespace PackCare.SampleLogs;

/// <summary>Invented temperatures of the team's places, in degrees Celsius.</summary>
internal static class Climate
{
    /// <summary>The cupboard in which packs are kept: 15 in January to 23 in July.</summary>
    public static double Cupboard(DateTime local) => 19 + (4 * Season(local));

    /// <summary>The rooms in which packs are charged: 20 to 23.</summary>
    public static double Room(DateTime local) => 21.5 + (1.5 * Season(local));

    /// <summary>On the river at noon: 6 in January to 24 in July.</summary>
    public static double River(DateTime local) => 15 + (9 * Season(local));

    // A triangle of the day of the year, lowest in mid January: no sine, whose last bit differs between platforms.
    private static double Season(DateTime local)
    {
        var day = (local.DayOfYear + 365 - 15) % 365;
        return day < 182.5 ? (day / 91.25) - 1 : 3 - (day / 91.25);
    }
}
