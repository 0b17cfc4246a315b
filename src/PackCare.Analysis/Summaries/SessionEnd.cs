using PackCare.Analysis.Chemistries;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Summaries;

/// <summary>What a session mostly did, and whether it came to its own end.</summary>
internal static class SessionEnd
{
    // A charger tapers down to a tenth or a twentieth of the charge current; a third is well on the way and no accident.
    private const double TaperFraction = 0.34;
    private const double EndVoltageTolerance = 0.04;

    // Further than this no cell at rest goes by recovering or by itself within a log; common practice, no source. Volts, and the part of a pack's.
    private const double MostAtRest = 0.1;
    private const double MostPartAtRest = 0.025;

    /// <summary>The kind, from charge in and out and the mean cell voltage at the end; without a current, from where the voltage went, there and back.</summary>
    /// <param name="session">The samples.</param>
    /// <param name="charge">The count; null without current.</param>
    /// <param name="cells">The cells.</param>
    /// <param name="endVolts">Mean cell voltage at the end, at rest where that was seen; null without cells.</param>
    /// <param name="profile">The chemistry.</param>
    public static SessionKind Kind(SessionSamples session, ChargeCount? charge, IReadOnlyList<CellSummary> cells, double? endVolts, ChemistryProfile profile)
    {
        if (charge is null)
        {
            int way = WayOfVoltage(session, cells);
            VoltageCourse? course = VoltageCourse.Of(session, cells.Count > 0 ? MostAtRest * cells.Count : MostPartAtRest * (session.PackVolts?.Figures.Max ?? 0), cells.Count > 0);
            if (course is { WentBothWays: true })
            {
                return SessionKind.Mixed;
            }

            way = way != 0 ? way : course?.WayThere ?? 0;
            return way == 0 ? SessionKind.Rest : InStorageWindow() ? SessionKind.Storage : way > 0 ? SessionKind.Charge : SessionKind.Discharge;
        }

        double more = Math.Max(charge.InAh, charge.OutAh);
        double less = Math.Min(charge.InAh, charge.OutAh);
        bool noCurrent = session.Current is not null && session.PeakAmperes <= Math.Max(0.02, 2 * session.CurrentResolution);
        // A current of one or two digits is one all the same where the voltage went with it.
        bool isAlone = WayOfVoltage(session, cells) != Math.Sign(charge.InAh - charge.OutAh);
        if ((noCurrent && isAlone) || more <= 0.002)
        {
            return SessionKind.Rest;
        }

        if (less > 0.5 * more)
        {
            return SessionKind.Mixed;
        }

        return InStorageWindow() ? SessionKind.Storage : charge.InAh >= charge.OutAh ? SessionKind.Charge : SessionKind.Discharge;

        bool InStorageWindow() => endVolts >= profile.StorageLowVolts && endVolts <= profile.StorageHighVolts;
    }

    // 1 where it rose further than a pack at rest can, -1 where it fell so far, else 0.
    private static int WayOfVoltage(SessionSamples session, IReadOnlyList<CellSummary> cells)
    {
        double went = cells.Count > 0 ? (cells.Average(cell => cell.EndVolts - cell.StartVolts) ?? 0) / MostAtRest
            : session.PackVolts is { Figures.Present: > 1 } pack && session.Count > 1 ? ((pack[session.Count - 1] / pack[0]) - 1) / MostPartAtRest : 0;
        return Math.Abs(went) > 1 ? Math.Sign(went) : 0;
    }

    /// <summary>Whether a charge tapered off at its end voltage, or a discharge ended at a low cell.</summary>
    public static bool Completed(SessionSamples session, SessionKind kind, RestSpan rest, ChemistryProfile profile)
    {
        if (session.Current is not { } current || session.Cells.Count == 0)
        {
            return false;
        }

        int last = Math.Min(rest.EndStart, session.Count) - 1;
        while (last > rest.StartEnd && !double.IsFinite(current[last]))
        {
            last--;
        }

        if (last <= rest.StartEnd)
        {
            return false;
        }

        double[] cells = [.. session.Cells.Select(cell => cell[last]).Where(double.IsFinite)];
        if (cells.Length == 0)
        {
            return false;
        }

        return kind switch
        {
            SessionKind.Charge => cells.Average() >= profile.FullChargeVolts - EndVoltageTolerance
                && current[last] > 0 && current[last] <= TaperFraction * session.PeakAmperes,
            SessionKind.Discharge => current[last] < 0 && cells.Min() <= profile.EmptyUnderLoadVolts,
            _ => false,
        };
    }
}
