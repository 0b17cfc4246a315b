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

    /// <summary>The spells that are over, in order of time, neighbouring stretches of one kind as one spell; and since when one is in progress, or null.</summary>
    public static (IReadOnlyList<FullSpell> Over, DateTimeOffset? LeftFull) Find(IReadOnlyList<Sighting> sightings, double threshold)
    {
        var spells = new List<FullSpell>();
        bool full = false;
        for (int i = 0; i < sightings.Count; i++)
        {
            Sighting last = sightings[i];
            // A reading a few millivolts under the threshold in the middle of a spell is the same pack, settled: only use ends a spell.
            bool settled = full && !last.InUse && last.VoltsBefore >= threshold - DroopVolts && last.VoltsAfter >= threshold - DroopVolts;
            full = settled || last.VoltsAfter >= threshold;
            if (!full)
            {
                continue;
            }

            if (i == sightings.Count - 1)
            {
                return (spells, last.To);
            }

            Sighting next = sightings[i + 1];
            if (next.From > last.To)
            {
                Append(spells, new FullSpell(last.To, next.From, next.VoltsBefore >= threshold - DroopVolts, false));
            }
        }

        return (spells, null);
    }

    private static void Append(List<FullSpell> spells, FullSpell spell)
    {
        // A spot check in the middle of a spell does not end it.
        if (spells.Count > 0 && spells[^1] is { } before && before.Confirmed && spell.Confirmed && before.To == spell.From)
        {
            spells[^1] = before with { To = spell.To };
        }
        else
        {
            spells.Add(spell);
        }
    }
}
