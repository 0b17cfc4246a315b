using PackCare.Analysis.Records;
using PackCare.Core.Packs;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Imbalance;

/// <summary>Rest readings, one after the other, between which nothing is on record and nothing seems to have been done to the pack.</summary>
/// <param name="Readings">Two or more, in order of time.</param>
internal sealed record RestStretch(IReadOnlyList<RestReading> Readings)
{
    private const double ShortestDays = 0.5;

    // A cell's own loss is some 3 % a month; a pack that lost much more than that in between was used or discharged.
    private const double AllowedLoss = 0.05;
    private const double AllowedLossPerDay = 0.003;
    private const double AllowedGain = 0.045;

    /// <summary>Its length in days.</summary>
    public double Days => (Readings[^1].At - Readings[0].At).TotalDays;

    /// <summary>All stretches of a record that are half a day or longer.</summary>
    public static IReadOnlyList<RestStretch> Of(PackRecord record)
    {
        var stretches = new List<RestStretch>();
        var open = new List<RestReading>();
        foreach (RestReading reading in record.Rests)
        {
            if (open.Count > 0 && !Untouched(open[^1], reading, record))
            {
                Close(stretches, open);
            }

            open.Add(reading);
        }

        Close(stretches, open);
        return stretches;
    }

    private static void Close(List<RestStretch> stretches, List<RestReading> open)
    {
        if (open.Count > 1 && (open[^1].At - open[0].At).TotalDays >= ShortestDays)
        {
            stretches.Add(new RestStretch([.. open]));
        }

        open.Clear();
    }

    private static bool Untouched(RestReading from, RestReading to, PackRecord record) =>
        from.Source != RestSource.SessionStart
        && !Began(record.Sessions, from.At, to.At)
        && !record.Entries.Any(entry => entry.Kind is EntryKind.Run or EntryKind.Storage && entry.At > from.At && entry.At < to.At)
        && Plausible(from, to, record);

    // Whether a session began between two moments, the first included; sessions are in order of time.
    private static bool Began(IReadOnlyList<SessionRecord> sessions, DateTimeOffset from, DateTimeOffset to)
    {
        int low = 0;
        int high = sessions.Count;
        while (low < high)
        {
            int middle = (low + high) / 2;
            (low, high) = sessions[middle].Started < from ? (middle + 1, high) : (low, middle);
        }

        return low < sessions.Count && sessions[low].Started < to;
    }

    // For losses the best cell is looked at, since a leaking one must not make its own pack look used; for gains the least, since a
    // charge lifts every cell, noise only some.
    private static bool Plausible(RestReading from, RestReading to, PackRecord record)
    {
        double[] gains = [.. from.Volts.Zip(to.Volts, (a, b) => record.Profile.Curve.SocAt(b) - record.Profile.Curve.SocAt(a))];
        return gains.Max() >= -(AllowedLoss + (AllowedLossPerDay * (to.At - from.At).TotalDays)) && gains.Min() <= AllowedGain;
    }
}
