using PackCare.Analysis.Chemistries;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Summaries;

/// <summary>What a session mostly did, and whether it came to its own end.</summary>
internal static class SessionEnd
{
    // A charger tapers down to a tenth or a twentieth of the charge current; a third is well on the way and no accident.
    private const double TaperFraction = 0.34;
    private const double EndVoltageTolerance = 0.04;

    /// <summary>The kind, from charge in and out and the mean cell voltage at the end.</summary>
    /// <param name="session">The samples.</param>
    /// <param name="charge">The count; null without current.</param>
    /// <param name="endVolts">Mean cell voltage at the end, at rest where that was seen; null without cells.</param>
    /// <param name="profile">The chemistry.</param>
    public static SessionKind Kind(SessionSamples session, ChargeCount? charge, double? endVolts, ChemistryProfile profile)
    {
        if (charge is null)
        {
            return SessionKind.Rest;
        }

        double more = Math.Max(charge.InAh, charge.OutAh);
        double less = Math.Min(charge.InAh, charge.OutAh);
        bool noCurrent = session.Current is not null && session.PeakAmperes <= Math.Max(0.02, 2 * session.CurrentResolution);
        if (noCurrent || more <= 0.002)
        {
            return SessionKind.Rest;
        }

        if (less > 0.5 * more)
        {
            return SessionKind.Mixed;
        }

        if (endVolts >= profile.StorageLowVolts && endVolts <= profile.StorageHighVolts)
        {
            return SessionKind.Storage;
        }

        return charge.InAh >= charge.OutAh ? SessionKind.Charge : SessionKind.Discharge;
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
