using PackCare.Analysis.Assessments;
using PackCare.Analysis.Chemistries;
using PackCare.Analysis.Records;

namespace PackCare.Analysis.FullCharge;

/// <summary>One state a day, for the strip of days.</summary>
internal static class DayStrip
{
    // Left at some level and nothing heard since: after so long, what it is like is anyone's guess.
    private const double ForgetDays = 60;

    /// <summary>From the first record to the assessed day, in UTC.</summary>
    public static IReadOnlyList<PackDay> Of(PackRecord record, IReadOnlyList<Sighting> sightings, IReadOnlyList<FullSpell> spells)
    {
        if (record.First is not { } first)
        {
            return [];
        }

        HashSet<DateOnly> used = [.. sightings.Where(sighting => sighting.InUse).SelectMany(sighting => new[] { Day(sighting.From), Day(sighting.To) })];
        var days = new List<PackDay>();
        int next = 0;
        Sighting? last = null;
        for (DateOnly day = Day(first); day <= Day(record.Now); day = day.AddDays(1))
        {
            var noon = new DateTimeOffset(day.ToDateTime(new TimeOnly(12, 0)), TimeSpan.Zero);
            while (next < sightings.Count && sightings[next].From <= noon)
            {
                last = sightings[next++];
            }

            days.Add(new PackDay(day, used.Contains(day) ? DayState.InUse : State(noon, last, next < sightings.Count ? sightings[next] : null, spells, record.Profile)));
        }

        return days;
    }

    private static DayState State(DateTimeOffset noon, Sighting? last, Sighting? next, IReadOnlyList<FullSpell> spells, ChemistryProfile profile)
    {
        if (spells.FirstOrDefault(spell => spell.From <= noon && noon < spell.To) is { } spell)
        {
            return spell.Confirmed ? DayState.Full : DayState.PossiblyFull;
        }

        if (last?.VoltsAfter is not { } volts || volts >= profile.FullThresholdVolts || (noon - last.To).TotalDays > ForgetDays)
        {
            return DayState.Unknown;
        }

        DayState state = Level(volts, profile);
        // Found at another level the next time: somewhere in between it was touched.
        return next?.VoltsBefore is { } later && Level(later, profile) != state && Math.Abs(later - volts) > 0.1 ? DayState.Unknown : state;
    }

    private static DayState Level(double volts, ChemistryProfile profile) =>
        volts >= profile.StorageLowVolts && volts <= profile.StorageHighVolts ? DayState.Storage : DayState.Part;

    private static DateOnly Day(DateTimeOffset moment) => DateOnly.FromDateTime(moment.UtcDateTime);
}
