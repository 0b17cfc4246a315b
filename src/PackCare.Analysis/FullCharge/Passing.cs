using PackCare.Analysis.Assessments;
using PackCare.Analysis.Records;
using PackCare.Core.Packs;

namespace PackCare.Analysis.FullCharge;

/// <summary>
/// What it takes to say at any moment, until the next record, how long a pack has been full or has not been read: all
/// that changes by the mere passing of time.
/// </summary>
/// <param name="Chemistry">The pack's chemistry.</param>
/// <param name="Celsius">Where it lies, as far as is known, in degrees Celsius.</param>
/// <param name="First">The first record, or null.</param>
/// <param name="Spells">Full spells that are over, in order of time.</param>
/// <param name="LeftFull">Since when it has been full, or null where it is not, as far as is known.</param>
/// <param name="LastVoltage">When its voltages were last read, or null.</param>
internal sealed record Passing(
    Chemistry Chemistry,
    double Celsius,
    DateTimeOffset? First,
    IReadOnlyList<FullSpell> Spells,
    DateTimeOffset? LeftFull,
    DateTimeOffset? LastVoltage)
{
    /// <summary>From a record.</summary>
    public static Passing Of(PackRecord record, IReadOnlyList<Sighting> sightings)
    {
        (IReadOnlyList<FullSpell> spells, DateTimeOffset? leftFull) = SpellFinder.Find(sightings, record.Profile.FullThresholdVolts);
        return new Passing(
            record.Profile.Chemistry,
            ExtraLoss.Celsius(record),
            record.First,
            spells,
            leftFull,
            record.Rests.Count == 0 ? record.Last : record.Rests[^1].At);
    }

    /// <summary>The same without spells that no finding will ask for: with no long one among them, only those count that the one in progress reaches back over.</summary>
    /// <param name="longDays">From which length a confirmed spell is found worth a word, in days.</param>
    public Passing Trimmed(double longDays)
    {
        if (Spells.Any(spell => spell.Confirmed && spell.Days >= longDays))
        {
            return this;
        }

        int from = Spells.Count;
        while (from > 0 && Spells[from - 1].Confirmed)
        {
            from--;
        }

        return this with { Spells = [.. Spells.Skip(from)] };
    }

    /// <summary>All spells as of a moment, the one in progress last.</summary>
    public IReadOnlyList<FullSpell> SpellsAt(DateTimeOffset now) =>
        LeftFull is { } since && now > since ? [.. Spells, new FullSpell(since, now, false, true)] : Spells;
}
