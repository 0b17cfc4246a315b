namespace PackCare.Analysis.Capacity;

/// <summary>The capacity that one session shows.</summary>
/// <param name="At">When.</param>
/// <param name="SessionId">The session.</param>
/// <param name="AmpereHours">The capacity.</param>
/// <param name="OwnError">Standard error of what differs from session to session, in ampere hours.</param>
/// <param name="CurveError">Standard error of what the pack's sessions share, the curve not being its own, in ampere hours.</param>
/// <param name="Span">How much of the charge was moved, as a fraction.</param>
/// <param name="Charging">Whether it was a charge.</param>
/// <param name="LowSoc">State of charge at its lower end, by the published curve.</param>
/// <param name="HighSoc">State of charge at its upper end.</param>
/// <param name="Group">Names the sessions that run between like levels, to a tenth of the charge.</param>
internal sealed record CapacityReading(DateTimeOffset At, long SessionId, double AmpereHours, double OwnError, double CurveError, double Span, bool Charging, double LowSoc, double HighSoc, string Group)
{
    /// <summary>Both errors together.</summary>
    public double StandardError => Math.Sqrt((OwnError * OwnError) + (CurveError * CurveError));
}
