namespace PackCare.Cli.Demo;

/// <summary>
/// The zone in which the demo's benches keep their clocks: an hour ahead of UTC, two in summer, changing at
/// 01:00 UTC on the last Sundays of March and October (Directive 2000/84/EC). Made here, so that the demo
/// plays alike on machines without a zone database.
/// </summary>
internal static class DemoZone
{
    /// <summary>The zone.</summary>
    public static TimeZoneInfo Instance { get; } = Make();

    private static TimeZoneInfo Make()
    {
        TimeZoneInfo.AdjustmentRule summer = TimeZoneInfo.AdjustmentRule.CreateAdjustmentRule(
            DateTime.MinValue.Date,
            DateTime.MaxValue.Date,
            TimeSpan.FromHours(1),
            TimeZoneInfo.TransitionTime.CreateFloatingDateRule(new DateTime(1, 1, 1, 2, 0, 0), 3, 5, DayOfWeek.Sunday),
            TimeZoneInfo.TransitionTime.CreateFloatingDateRule(new DateTime(1, 1, 1, 3, 0, 0), 10, 5, DayOfWeek.Sunday));
        return TimeZoneInfo.CreateCustomTimeZone("demo", TimeSpan.FromHours(1), "demo", "demo", "demo summer", [summer]);
    }
}
