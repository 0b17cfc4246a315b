using PackCare.Analysis.Assessments;
using PackCare.Analysis.Chemistries;
using PackCare.Analysis.Records;
using PackCare.Core.Packs;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.FullCharge;

/// <summary>What full spells are thought to have cost beyond lying at storage level: a range, since two published sources disagree.</summary>
internal static class ExtraLoss
{
    private const double UnknownCelsius = 25;

    /// <summary>
    /// Lower and higher expectation in percent of capacity: the lower of both sources over confirmed spells alone, and the
    /// higher of both over confirmed and possible ones. Null without spells, and for LiFePO4, of which neither source speaks.
    /// </summary>
    public static (double? Low, double? High) Percent(Passing passing, IReadOnlyList<FullSpell> spells, DateTimeOffset now)
    {
        if (spells.Count == 0 || passing.Chemistry == Chemistry.LiFePo4)
        {
            return (null, null);
        }

        double celsius = passing.Celsius;
        DateTimeOffset from = passing.First ?? spells[0].From;
        ChemistryProfile profile = ChemistryProfile.Of(passing.Chemistry);
        FullSpell[] confirmed = [.. spells.Where(spell => spell.Confirmed)];
        double low = Math.Min(BySchmalstieg(profile, confirmed, from, now, celsius), CalendarLoss.Table3Extra(confirmed.Sum(spell => spell.Days), celsius));
        double high = Math.Max(BySchmalstieg(profile, spells, from, now, celsius), CalendarLoss.Table3Extra(spells.Sum(spell => spell.Days), celsius));
        return (100 * low, 100 * high);
    }

    // Both histories run from the first record to now; only the level in the spells differs.
    private static double BySchmalstieg(ChemistryProfile profile, IReadOnlyList<FullSpell> spells, DateTimeOffset from, DateTimeOffset now, double celsius)
    {
        double storage = CalendarLoss.SchmalstiegAlpha(profile.StorageVolts, celsius);
        double full = CalendarLoss.SchmalstiegAlpha(profile.FullChargeVolts - 0.03, celsius);
        double loss = 0;
        DateTimeOffset at = from;
        foreach (FullSpell spell in spells)
        {
            loss = CalendarLoss.Step(loss, storage, (spell.From - at).TotalDays);
            loss = CalendarLoss.Step(loss, full, spell.Days);
            at = spell.To;
        }

        loss = CalendarLoss.Step(loss, storage, (now - at).TotalDays);
        return loss - CalendarLoss.Step(0, storage, (now - from).TotalDays);
    }

    /// <summary>Where the pack lies is not logged; the sessions' starts, before current warms it, are the nearest there is, in degrees Celsius.</summary>
    public static double Celsius(PackRecord record)
    {
        double[] lowest = [.. record.Sessions.Select(session => session.Summary).Select((SessionSummary summary) => summary.MinCelsius).OfType<double>()];
        return lowest.Length == 0 ? UnknownCelsius : Math.Clamp(lowest.Average(), 0, 45);
    }
}
