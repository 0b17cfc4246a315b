using PackCare.Core.Estimates;

namespace PackCare.Analysis.Assessments;

/// <summary>How level the cells are, how that changes, and why.</summary>
/// <param name="RestSpreadMillivolts">Highest less lowest cell at the latest rest, in millivolts, or null where none was seen.</param>
/// <param name="Measured">When that was, or null.</param>
/// <param name="DeviationMillivolts">Each cell's distance from the median then, in millivolts.</param>
/// <param name="ChargeOffsetPercent">Each cell's state of charge less the median, in percent of capacity; empty where the curve is too flat to tell.</param>
/// <param name="TrendCell">The cell that drifts most, from 1, or null.</param>
/// <param name="TrendMillivolts">How that cell's deviation changes, in millivolts.</param>
/// <param name="TrendMillivoltsPerCycle">The same per equivalent full cycle, or null.</param>
/// <param name="Cause">Why the cells differ.</param>
/// <param name="Evidence">What speaks for and against that cause, a sentence each.</param>
/// <param name="Series">All deviations on record, in order of time.</param>
/// <param name="ChargeOffsetAh">The charge offsets in ampere hours; empty where they or the capacity are not known.</param>
/// <param name="CauseCell">The cell that the cause names, from 1, or null.</param>
/// <param name="WatchMillivolts">The watch limit of the rest spread after a completed charge, in millivolts, or null where none was applied.</param>
/// <param name="RetireMillivolts">The limit of the same from which retiring is to be considered, in millivolts, or null likewise.</param>
public sealed record ImbalanceAssessment(
    double? RestSpreadMillivolts,
    DateTimeOffset? Measured,
    IReadOnlyList<double> DeviationMillivolts,
    IReadOnlyList<Estimate> ChargeOffsetPercent,
    int? TrendCell,
    Trend TrendMillivolts,
    Estimate? TrendMillivoltsPerCycle,
    ImbalanceCause Cause,
    IReadOnlyList<string> Evidence,
    IReadOnlyList<DeviationPoint> Series,
    IReadOnlyList<Estimate>? ChargeOffsetAh = null,
    int? CauseCell = null,
    double? WatchMillivolts = null,
    double? RetireMillivolts = null);
