using PackCare.Core.Packs;

namespace PackCare.Analysis.Assessments;

/// <summary>All that is concluded about one pack at one moment.</summary>
/// <param name="Pack">The pack.</param>
/// <param name="Assessed">The moment for which it holds.</param>
/// <param name="Standing">Its overall state: that of the gravest finding.</param>
/// <param name="Findings">Gravest first.</param>
/// <param name="Imbalance">How level the cells are.</param>
/// <param name="FullCharge">How long it sat full.</param>
/// <param name="Resistance">Resistances.</param>
/// <param name="Capacity">Capacity.</param>
/// <param name="Usage">Usage.</param>
/// <param name="Days">One entry a day from the first record to the assessed day.</param>
public sealed record PackAssessment(
    Pack Pack,
    DateTimeOffset Assessed,
    Standing Standing,
    IReadOnlyList<Finding> Findings,
    ImbalanceAssessment Imbalance,
    FullChargeAssessment FullCharge,
    ResistanceAssessment Resistance,
    CapacityAssessment Capacity,
    UsageAssessment Usage,
    IReadOnlyList<PackDay> Days);
