using PackCare.Analysis.Chemistries;
using PackCare.Core.Packs;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Records;

/// <summary>A pack's history up to a moment, ordered by what was recorded and never by the order of import.</summary>
internal sealed class PackRecord
{
    // Of two checks at one moment: by the first cell that differs.
    private static readonly Comparer<IReadOnlyList<double>> VoltsInTurn = Comparer<IReadOnlyList<double>>.Create((one, other) =>
        one.Zip(other, (a, b) => a.CompareTo(b)).FirstOrDefault(sign => sign != 0) is var first && first != 0 ? first : one.Count.CompareTo(other.Count));

    /// <summary>Orders a history.</summary>
    public PackRecord(PackHistory history, DateTimeOffset now)
    {
        Pack = history.Pack;
        Moment = new Moment(now);
        Profile = ChemistryProfile.Of(history.Pack.Details.Chemistry);
        Sessions = [.. history.Sessions
            .Where(session => Moment.HasCome(session.Started))
            .OrderBy(session => session.Started).ThenBy(session => session.Ended).ThenBy(session => session.FileName, StringComparer.Ordinal)
            .ThenBy(session => session.Summary.SampleCount).ThenBy(session => session.Summary.NetChargeAh).ThenBy(session => session.Summary.NetEnergyWh)];
        SpotChecks = [.. history.SpotChecks.Where(check => Moment.HasCome(check.At)).OrderBy(check => check.At).ThenBy(check => check.CellVolts, VoltsInTurn)];
        Entries = [.. history.Entries.Where(entry => Moment.HasCome(entry.At)).OrderBy(entry => entry.At).ThenBy(entry => entry.Kind).ThenBy(entry => entry.Text, StringComparer.Ordinal).ThenBy(entry => entry.MaxCelsius)];
        Rests = [.. Sessions.SelectMany(session => RestReadings.Of(session, Cells))
            .Concat(SpotChecks.Select(check => RestReadings.Of(check, Cells)).OfType<RestReading>())
            .OrderBy(reading => reading.At)
            .ThenBy(reading => reading.Source)];

        // While a session goes on, the last record is always now.
        if (!Sessions.All(session => Moment.HasCome(session.Ended)))
        {
            Moment.HoldsForNowOnly();
        }
    }

    /// <summary>The pack.</summary>
    public Pack Pack { get; }

    /// <summary>The moment for which all holds. A finding asks it, and never compares with <see cref="Now"/> itself.</summary>
    public Moment Moment { get; }

    /// <summary>The moment itself, for what findings and briefs do not rest on.</summary>
    public DateTimeOffset Now => Moment.Now;

    /// <summary>Its chemistry.</summary>
    public ChemistryProfile Profile { get; }

    /// <summary>Cells in series.</summary>
    public int Cells => Pack.Details.Cells;

    /// <summary>Rated capacity in ampere hours, or null.</summary>
    public double? RatedAh => Pack.Details.RatedCapacity?.Value;

    /// <summary>Sessions in order of time.</summary>
    public IReadOnlyList<SessionRecord> Sessions { get; }

    /// <summary>Spot checks in order of time.</summary>
    public IReadOnlyList<SpotCheck> SpotChecks { get; }

    /// <summary>Diary entries in order of time.</summary>
    public IReadOnlyList<DiaryEntry> Entries { get; }

    /// <summary>All rest readings in order of time.</summary>
    public IReadOnlyList<RestReading> Rests { get; }

    /// <summary>The first record of any kind, or null.</summary>
    public DateTimeOffset? First => Moments().Cast<DateTimeOffset?>().Min();

    /// <summary>The last record of any kind, or null.</summary>
    public DateTimeOffset? Last => Moments().Cast<DateTimeOffset?>().Max();

    private IEnumerable<DateTimeOffset> Moments() =>
        Sessions.SelectMany(session => new[] { session.Started, session.Ended > Now ? Now : session.Ended })
            .Concat(SpotChecks.Select(check => check.At))
            .Concat(Entries.Select(entry => entry.At));
}
