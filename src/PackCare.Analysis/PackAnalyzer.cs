using PackCare.Analysis.Assessments;
using PackCare.Core.Packs;

namespace PackCare.Analysis;

/// <summary>Turns the record of a pack into an assessment. Pure: the same record and moment give the same assessment.</summary>
public static class PackAnalyzer
{
    /// <summary>Assesses one pack.</summary>
    /// <param name="history">All that is on record about it.</param>
    /// <param name="now">The moment for which the assessment is to hold; later records are left out.</param>
    public static PackAssessment Analyze(PackHistory history, DateTimeOffset now) => throw new NotImplementedException();
}
