using PackCare.Analysis.Assessments;
using PackCare.Analysis.Imbalance;
using PackCare.Analysis.Limits;
using PackCare.Analysis.Records;

namespace PackCare.Analysis.Standings;

/// <summary>All that findings are drawn from.</summary>
internal sealed record Evidence(
    PackRecord Record,
    LimitTable Limits,
    ImbalanceFacts Facts,
    ImbalanceAssessment Imbalance,
    FullChargeAssessment FullCharge,
    ResistanceAssessment Resistance,
    CapacityAssessment Capacity);
