namespace PackCare.Store;

/// <summary>The outcome of an examination.</summary>
/// <param name="Packs">How many packs were examined.</param>
/// <param name="Sessions">How many sessions.</param>
/// <param name="Blocks">How many blocks of samples.</param>
/// <param name="Complaints">What is wrong; after a repair, what is still wrong.</param>
/// <param name="Repaired">What was put right; empty without a repair.</param>
/// <param name="SessionsToSummarise">Sessions whose summary is to be derived again from their samples.</param>
/// <param name="KeptAside">Where the file as it was before the repair is kept, or null.</param>
public sealed record HealthReport(
    long Packs,
    long Sessions,
    long Blocks,
    IReadOnlyList<Complaint> Complaints,
    IReadOnlyList<Complaint> Repaired,
    IReadOnlyList<long> SessionsToSummarise,
    string? KeptAside = null)
{
    /// <summary>Whether nothing is wrong.</summary>
    public bool Sound => Complaints.Count == 0;
}
