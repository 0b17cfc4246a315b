using PackCare.Analysis.Records;

namespace PackCare.Analysis.Imbalance;

/// <summary>A stretch at rest between two readings with nothing on record between them.</summary>
internal sealed record RestInterval(RestReading From, RestReading To)
{
    private const double ShortestDays = 0.5;

    // A cell's own loss is some 3 % a month; a pack that lost much more than that in between was used or discharged.
    private const double AllowedLoss = 0.02;
    private const double AllowedLossPerDay = 0.003;
    private const double AllowedGain = 0.015;

    /// <summary>Its length in days.</summary>
    public double Days => (To.At - From.At).TotalDays;

    /// <summary>All stretches of a record at which the pack is taken to have lain untouched.</summary>
    public static IReadOnlyList<RestInterval> Of(PackRecord record)
    {
        var intervals = new List<RestInterval>();
        for (int i = 1; i < record.Rests.Count; i++)
        {
            var interval = new RestInterval(record.Rests[i - 1], record.Rests[i]);
            if (interval.Days >= ShortestDays && !Touched(interval, record) && Plausible(interval, record))
            {
                intervals.Add(interval);
            }
        }

        return intervals;
    }

    private static bool Touched(RestInterval interval, PackRecord record) =>
        interval.From.Source == RestSource.SessionStart
        || record.Sessions.Any(session => session.Started >= interval.From.At && session.Started < interval.To.At)
        || record.Entries.Any(entry => entry.Kind is Core.Packs.EntryKind.Run or Core.Packs.EntryKind.Storage && entry.At > interval.From.At && entry.At < interval.To.At);

    // The best cell is looked at: a leaking one must not make its own pack look used.
    private static bool Plausible(RestInterval interval, PackRecord record)
    {
        double[] changes = [.. interval.From.Volts.Zip(interval.To.Volts, (a, b) => record.Profile.Curve.SocAt(b) - record.Profile.Curve.SocAt(a))];
        double best = changes.Max();
        double relaxation = 0.03;
        return best >= -(AllowedLoss + relaxation + (AllowedLossPerDay * interval.Days)) && best <= AllowedGain + relaxation;
    }
}
