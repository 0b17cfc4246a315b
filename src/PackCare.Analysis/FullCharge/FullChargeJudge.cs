using PackCare.Analysis.Assessments;
using PackCare.Analysis.Records;

namespace PackCare.Analysis.FullCharge;

/// <summary>Judges how long a pack sat full.</summary>
internal static class FullChargeJudge
{
    /// <summary>The assessment.</summary>
    public static FullChargeAssessment Of(PackRecord record, IReadOnlyList<Sighting> sightings)
    {
        double threshold = record.Profile.FullThresholdVolts;
        IReadOnlyList<FullSpell> spells = SpellFinder.Find(sightings, threshold, record.Now);
        (double? low, double? high) = ExtraLoss.Percent(record, spells);
        return new FullChargeAssessment(
            threshold,
            spells.Where(spell => spell.Confirmed).Sum(spell => spell.Days),
            spells.Where(spell => !spell.Confirmed).Sum(spell => spell.Days),
            spells.FirstOrDefault(spell => spell.InProgress),
            spells,
            low,
            high);
    }
}
