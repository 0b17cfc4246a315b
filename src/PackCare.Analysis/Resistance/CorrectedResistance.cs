using PackCare.Analysis.Assessments;

namespace PackCare.Analysis.Resistance;

/// <summary>A point with its error taken apart.</summary>
/// <param name="Point">The point; its error is the whole.</param>
/// <param name="OwnMilliohms">Standard error that this session has for itself, in milliohms.</param>
/// <param name="TemperatureMilliohms">Standard error from the temperature correction, in milliohms, signed: all points of a series err together by it.</param>
internal sealed record CorrectedResistance(ResistancePoint Point, double OwnMilliohms, double TemperatureMilliohms);
