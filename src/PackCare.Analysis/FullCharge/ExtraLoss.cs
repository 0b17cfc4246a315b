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
    public static (double? Low, double? High) Percent(PackRecord record, IReadOnlyList<FullSpell> spells)
    {
        if (spells.Count == 0 || record.Profile.Chemistry == Chemistry.LiFePo4)
        {
            return (null, null);
        }

        double celsius = Celsius(record);
        DateTimeOffset from = record.First ?? spells[0].From;
        FullSpell[] confirmed = [.. spells.Where(spell => spell.Confirmed)];
        double low = Math.Min(BySchmalstieg(record, confirmed, from, celsius), CalendarLoss.Table3Extra(confirmed.Sum(spell => spell.Days), celsius));
        double high = Math.Max(BySchmalstieg(record, spells, from, celsius), CalendarLoss.Table3Extra(spells.Sum(spell => spell.Days), celsius));
        return (100 * low, 100 * high);
    }

    // Both histories run from the first record to now; only the level in the spells differs.
    private static double BySchmalstieg(PackRecord record, IReadOnlyList<FullSpell> spells, DateTimeOffset from, double celsius)
    {
        ChemistryProfile profile = record.Profile;
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

        loss = CalendarLoss.Step(loss, storage, (record.Now - at).TotalDays);
        return loss - CalendarLoss.Step(0, storage, (record.Now - from).TotalDays);
    }

    // Where the pack lies is not logged; the sessions' starts, before current warms it, are the nearest there is.
    private static double Celsius(PackRecord record)
    {
        double[] lowest = [.. record.Sessions.Select(session => session.Summary).Select((SessionSummary summary) => summary.MinCelsius).OfType<double>()];
        return lowest.Length == 0 ? UnknownCelsius : Math.Clamp(lowest.Average(), 0, 45);
    }
}
