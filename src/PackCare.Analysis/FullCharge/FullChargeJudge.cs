using PackCare.Analysis.Assessments;
using PackCare.Analysis.Chemistries;

namespace PackCare.Analysis.FullCharge;

/// <summary>Judges how long a pack sat full.</summary>
internal static class FullChargeJudge
{
    /// <summary>The assessment.</summary>
    public static FullChargeAssessment Of(Passing passing, DateTimeOffset now)
    {
        double threshold = ChemistryProfile.Of(passing.Chemistry).FullThresholdVolts;
        IReadOnlyList<FullSpell> spells = passing.SpellsAt(now);
        (double? low, double? high) = ExtraLoss.Percent(passing, spells, now);
        return new FullChargeAssessment(
            threshold,
            spells.Where(spell => spell.Confirmed).Sum(spell => spell.Days),
            spells.Where(spell => !spell.Confirmed).Sum(spell => spell.Days),
            Current(spells),
            spells,
            low,
            high);
    }

    /// <summary>The spell in progress, or null. It reaches back over the stretches before it that were confirmed; its last stretch never is.</summary>
    public static FullSpell? Current(IReadOnlyList<FullSpell> spells)
    {
        if (spells.Count == 0 || !spells[^1].InProgress)
        {
            return null;
        }

        FullSpell current = spells[^1];
        for (int i = spells.Count - 2; i >= 0 && spells[i].Confirmed && spells[i].To == current.From; i--)
        {
            current = current with { From = spells[i].From };
        }

        return current;
    }
}
