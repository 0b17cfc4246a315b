namespace PackCare.Analysis.Summaries;

/// <summary>A change from one steady current to another.</summary>
/// <param name="Before">Last sample at the old current.</param>
/// <param name="After">First sample at the new current.</param>
/// <param name="DeltaAmperes">New less old current.</param>
/// <param name="Seconds">Time between the two samples.</param>
/// <param name="Moment">
/// When the current changed, in seconds since the session's start: each part of the change is taken to have come half way
/// between the two samples that show it.
/// </param>
/// <param name="CalmFrom">First sample of the steady stretch before the step, as far back as is looked at.</param>
/// <param name="HeldTo">Last sample in a row, at ordinary intervals, at which the new current was still there.</param>
/// <param name="Settled">Whether the steady stretch before was long enough for polarisation by earlier currents to have died down.</param>
internal sealed record CurrentStep(int Before, int After, double DeltaAmperes, double Seconds, double Moment, int CalmFrom, int HeldTo, bool Settled)
{
    /// <summary>Whether the new current was still there a sample later, an ordinary interval on.</summary>
    public bool Held => HeldTo > After;
}
