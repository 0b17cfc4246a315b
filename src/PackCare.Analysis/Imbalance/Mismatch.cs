using PackCare.Core.Estimates;

namespace PackCare.Analysis.Imbalance;

/// <summary>How much less than the others a cell holds.</summary>
/// <param name="Cell">Cell number from 1.</param>
/// <param name="Percent">Percent of the others' capacity; positive for a smaller cell.</param>
/// <param name="Significant">Whether it differs from none at the 1 % level for the pack as a whole.</param>
/// <param name="Sessions">Sessions that it rests on.</param>
internal sealed record Mismatch(int Cell, Estimate Percent, bool Significant, IReadOnlyList<long> Sessions);
