using PackCare.Analysis.Assessments;
using PackCare.Core.Packs;
using PackCare.Core.Samples;
using PackCare.Core.Sessions;

namespace PackCare.Report;

/// <summary>One pack of a report.</summary>
/// <param name="Assessment">What is concluded about it.</param>
/// <param name="History">What that rests on.</param>
/// <param name="LastCharge">Its latest session of kind charge, or null.</param>
/// <param name="LastChargeSamples">That session's samples, or null.</param>
public sealed record ReportPack(PackAssessment Assessment, PackHistory History, SessionRecord? LastCharge, SampleSeries? LastChargeSamples);
