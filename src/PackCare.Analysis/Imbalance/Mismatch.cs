using PackCare.Core.Estimates;

namespace PackCare.Analysis.Imbalance;

/// <summary>How much less than the others a cell holds.</summary>
/// <param name="Cell">Cell number from 1.</param>
/// <param name="Percent">Percent of the others' capacity; positive for a smaller cell.</param>
/// <param name="Significant">Whether it differs from none at the 1 % level for the pack as a whole.</param>
/// <param name="Sessions">Sessions that it rests on.</param>
internal sealed record Mismatch(int Cell, Estimate Percent, bool Significant, IReadOnlyList<long> Sessions)
{
    /// <summary>What it takes to be significant, in percent.</summary>
    public double Needed { get; init; }

    /// <summary>What was found without the latest session, the latest two and so on.</summary>
    public IEnumerable<Hold> Before { get; init; } = [];

    /// <summary>Whether it stands against a limit, with a release short of it.</summary>
    public bool Stands(double limit) => Hold.Stands(new Hold(Percent, Needed), Before, limit);
}
