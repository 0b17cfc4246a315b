using PackCare.Core.Packs;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Records;

/// <summary>Collects what is on record of a pack at rest, with what each reading is worth.</summary>
internal static class RestReadings
{
    // What a cell's terminal voltage still lacks of its rest voltage after current stops dies away over minutes; these are
    // ours, sized on polymer cells at about 1 C: some 12 mV at once, with a time constant of 5 minutes, on top of 3 mV that
    // no reading within a day gets below.
    private const double SettledError = 0.003;
    private const double UnsettledError = 0.012;
    private const double SettlingSeconds = 300;

    /// <summary>The readings of a session, start then end; none where a cell is missing.</summary>
    public static IEnumerable<RestReading> Of(SessionRecord session, int cells)
    {
        SessionSummary summary = session.Summary;
        if (summary.Cells.Count != cells)
        {
            yield break;
        }

        if (All(summary.Cells, cell => cell.StartRestVolts) is { } start)
        {
            yield return new RestReading(session.Started, session.Id, RestSource.SessionStart, false, start, 0.001, SettledError);
        }

        bool full = summary is { Completed: true, Kind: SessionKind.Charge };
        if (summary.Kind == SessionKind.Rest)
        {
            yield break;
        }

        if (All(summary.Cells, cell => cell.EndRestVolts) is { } end)
        {
            double level = SettledError + (UnsettledError * Math.Exp(-(summary.EndRestSeconds ?? 0) / SettlingSeconds));
            yield return new RestReading(session.Ended, session.Id, RestSource.SessionEnd, full, end, 0.0012, level, Settling(summary, full));
        }
        else if (full && All(summary.Cells, cell => cell.EndVolts) is { } tapered)
        {
            // A charge that tapered off ends at so little current that the cells stand almost as at rest.
            yield return new RestReading(session.Ended, session.Id, RestSource.SessionEnd, true, tapered, 0.002, 0.012, 0.0015);
        }
    }

    /// <summary>A spot check as a reading; null where the number of cells does not fit.</summary>
    public static RestReading? Of(SpotCheck check, int cells)
    {
        if (check.CellVolts.Count != cells)
        {
            return null;
        }

        // A voltage typed with two decimals was rounded to 10 mV.
        bool coarse = check.CellVolts.All(volts => Math.Abs((volts * 100) - Math.Round(volts * 100)) < 1e-6);
        return new RestReading(check.At, null, RestSource.SpotCheck, false, check.CellVolts, coarse ? 0.0045 : 0.0013, coarse ? 0.006 : 0.004);
    }

    // Cells of unlike resistance settle by unlike amounts, in proportion to the current that stopped: little after a taper, more
    // after a discharge or a charge that was cut short (ours, no source).
    private static double Settling(SessionSummary summary, bool tapered)
    {
        double after = tapered || summary.Kind == SessionKind.Storage ? 0.0005 : 0.002;
        return after * (1 + Math.Exp(-(summary.EndRestSeconds ?? 0) / 120));
    }

    private static double[]? All(IReadOnlyList<CellSummary> cells, Func<CellSummary, double?> volts) =>
        cells.All(cell => volts(cell) is not null) ? [.. cells.Select(cell => volts(cell)!.Value)] : null;
}
