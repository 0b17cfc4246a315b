namespace PackCare.SampleLogs;

/// <summary>
/// Local time at the team's place by the European rule (summer time from the last Sunday of March to the last of October,
/// changing at 01:00 UTC). Written out so that the files come out the same on machines without a zone database.
/// </summary>
internal static class BerlinTime
{
    /// <summary>Gives a local wall time its offset. Times in the doubled or missing hour are never used here.</summary>
    /// <param name="local">Wall time.</param>
    public static DateTimeOffset At(DateTime local)
    {
        var summer = local >= LastSunday(local.Year, 3).AddHours(2) && local < LastSunday(local.Year, 10).AddHours(3);
        return new DateTimeOffset(DateTime.SpecifyKind(local, DateTimeKind.Unspecified), TimeSpan.FromHours(summer ? 2 : 1));
    }

    private static DateTime LastSunday(int year, int month)
    {
        var last = new DateTime(year, month, DateTime.DaysInMonth(year, month));
        return last.AddDays(-(int)last.DayOfWeek);
    }
}
