using PackCare.Analysis.Records;
using PackCare.Core.Packs;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.FullCharge;

/// <summary>All records that tell of the pack's level or use, in order of time.</summary>
internal static class Sightings
{
    /// <summary>The sightings of a record.</summary>
    public static IReadOnlyList<Sighting> Of(PackRecord record)
    {
        var all = new List<Sighting>();
        all.AddRange(record.Sessions.Select(session => Of(session, record)));
        all.AddRange(record.SpotChecks.Where(check => check.CellVolts.Count == record.Cells).Select(check => new Sighting(check.At, check.At, check.CellVolts.Average(), check.CellVolts.Average(), false)));
        foreach (DiaryEntry entry in record.Entries)
        {
            // After a run nobody knows the level; brought to storage level, it is in the storage window.
            if (entry.Kind == EntryKind.Run)
            {
                all.Add(new Sighting(entry.At, entry.At, null, null, true));
            }
            else if (entry.Kind == EntryKind.Storage)
            {
                all.Add(new Sighting(entry.At, entry.At, null, record.Profile.StorageVolts, false));
            }
        }

        return [.. all.OrderBy(sighting => sighting.From).ThenBy(sighting => sighting.To)];
    }

    private static Sighting Of(SessionRecord session, PackRecord record)
    {
        SessionSummary summary = session.Summary;
        double? before = Mean(summary, cell => cell.StartRestVolts) ?? (summary.Kind == SessionKind.Rest ? Mean(summary, cell => cell.StartVolts) : null);
        double? after = Mean(summary, cell => cell.EndRestVolts)
            ?? (summary.Kind == SessionKind.Rest || summary is { Completed: true, Kind: SessionKind.Charge } ? Mean(summary, cell => cell.EndVolts) : null)
            ?? Unsettled(summary, record);
        return new Sighting(session.Started, session.Ended, before, after, summary.Kind != SessionKind.Rest);
    }

    // A session that stops logging under current: take off I R where R is known; close enough to tell full from not full.
    private static double? Unsettled(SessionSummary summary, PackRecord record) =>
        summary.Kind switch
        {
            SessionKind.Storage => record.Profile.StorageVolts,
            SessionKind.Discharge => Mean(summary, cell => cell.EndVolts),
            _ => Mean(summary, cell => cell.EndVolts - ((summary.PeakChargeAmperes ?? 0) * (cell.Resistance?.Ohms ?? 0.01))),
        };

    private static double? Mean(SessionSummary summary, Func<CellSummary, double?> volts) =>
        summary.Cells.Count > 0 && summary.Cells.All(cell => volts(cell) is not null) ? summary.Cells.Average(cell => volts(cell)!.Value) : null;
}
