using PackCare.Core.Estimates;

namespace PackCare.Analysis.Imbalance;

/// <summary>What a cell loses at rest beyond the other cells.</summary>
/// <param name="Cell">Cell number from 1.</param>
/// <param name="PercentPerWeek">Percent of its capacity a week; positive where it loses more than the others.</param>
/// <param name="Days">Days at rest that it rests on.</param>
/// <param name="Significant">Whether it differs from none at the 1 % level for the pack as a whole.</param>
/// <param name="Sessions">Sessions whose readings it rests on.</param>
internal sealed record Leak(int Cell, Estimate PercentPerWeek, double Days, bool Significant, IReadOnlyList<long> Sessions)
{
    /// <summary>What it takes to be significant, in percent a week.</summary>
    public double Needed { get; init; }

    /// <summary>What was found without the latest stretch, the latest two and so on.</summary>
    public IEnumerable<Hold> Before { get; init; } = [];

    /// <summary>Whether it stands against a limit, with a release short of it.</summary>
    public bool Stands(double limit) => Hold.Stands(new Hold(PercentPerWeek, Needed), Before, limit);
}
