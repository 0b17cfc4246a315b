using PackCare.Analysis.Assessments;
using PackCare.Analysis.Limits;

namespace PackCare.Report.Charts;

/// <summary>The limits that the rest spread is held against: those that the assessment applied, else the usual ones of the chemistry.</summary>
internal static class SpreadLimit
{
    /// <summary>The watch limit in millivolts.</summary>
    public static double Watch(PackAssessment assessment) =>
        assessment.Imbalance.WatchMillivolts ?? LimitTable.Default(assessment.Pack.Details.Chemistry)[LimitKey.RestSpreadWatch];

    /// <summary>The limit from which retiring is to be considered, in millivolts.</summary>
    public static double Retire(PackAssessment assessment) =>
        assessment.Imbalance.RetireMillivolts ?? LimitTable.Default(assessment.Pack.Details.Chemistry)[LimitKey.RestSpreadRetire];
}
