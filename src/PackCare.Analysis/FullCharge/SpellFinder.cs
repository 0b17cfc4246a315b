using PackCare.Analysis.Assessments;

namespace PackCare.Analysis.FullCharge;

/// <summary>
/// Finds full spells. Between two records the pack is what the evidence allows: confirmed full where the later record
/// finds it still full, possibly full where it was left full and the later record finds it otherwise or does not tell.
/// </summary>
internal static class SpellFinder
{
    // A pack charged to the full threshold settles and loses a little within weeks; it has not been used for that.
    private const double DroopVolts = 0.03;

    /// <summary>The spells in order of time; neighbouring stretches of one kind are one spell.</summary>
    public static IReadOnlyList<FullSpell> Find(IReadOnlyList<Sighting> sightings, double threshold, DateTimeOffset now)
    {
        var spells = new List<FullSpell>();
        for (int i = 0; i < sightings.Count; i++)
        {
            Sighting last = sightings[i];
            if (!(last.VoltsAfter >= threshold))
            {
                continue;
            }

            bool open = i == sightings.Count - 1;
            DateTimeOffset to = open ? now : sightings[i + 1].From;
            bool confirmed = !open && sightings[i + 1].VoltsBefore >= threshold - DroopVolts;
            if (to > last.To)
            {
                Append(spells, new FullSpell(last.To, to, confirmed, open));
            }
        }

        return spells;
    }

    private static void Append(List<FullSpell> spells, FullSpell spell)
    {
        // A spot check in the middle of a spell does not end it.
        if (spells.Count > 0 && spells[^1] is { } before && before.Confirmed && spell.Confirmed && before.To == spell.From)
        {
            spells[^1] = before with { To = spell.To, InProgress = spell.InProgress };
        }
        else
        {
            spells.Add(spell);
        }
    }
}
