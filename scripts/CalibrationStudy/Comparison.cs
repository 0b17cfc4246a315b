using PackCare.Core.Estimates;

namespace PackCare.CalibrationStudy;

/// <summary>An estimate beside the truth.</summary>
/// <param name="Quantity">What was estimated.</param>
/// <param name="Estimate">The estimate, or null where the analysis gave none.</param>
/// <param name="Truth">The truth, in the same unit.</param>
internal sealed record Comparison(string Quantity, Estimate? Estimate, double Truth)
{
    /// <summary>Whether the interval holds the truth.</summary>
    public bool Covers => Estimate is not null && Estimate.Low <= Truth && Truth <= Estimate.High;
}
