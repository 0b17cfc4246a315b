namespace PackCare.Analysis.Summaries;

/// <summary>A change from one steady current to another.</summary>
/// <param name="Before">Last sample at the old current.</param>
/// <param name="After">First sample at the new current.</param>
/// <param name="DeltaAmperes">New less old current.</param>
/// <param name="Seconds">Time between the two samples.</param>
/// <param name="Held">Whether the new current was still there a sample later, an ordinary interval on.</param>
internal sealed record CurrentStep(int Before, int After, double DeltaAmperes, double Seconds, bool Held);
