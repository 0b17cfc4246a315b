using MathNet.Numerics.LinearAlgebra;

namespace PackCare.Analysis.Statistics;

/// <summary>A fitted linear model.</summary>
/// <param name="Parameters">The parameters b.</param>
/// <param name="UnscaledCovariance">(X' W X)^-1; times the residual variance it is the covariance of the parameters.</param>
/// <param name="WeightedSquares">Weighted sum of squared residuals.</param>
/// <param name="DegreesOfFreedom">Observations less parameters.</param>
/// <param name="Residuals">Observed less fitted, unweighted.</param>
internal sealed record LinearFit(
    IReadOnlyList<double> Parameters,
    Matrix<double> UnscaledCovariance,
    double WeightedSquares,
    int DegreesOfFreedom,
    IReadOnlyList<double> Residuals)
{
    /// <summary>Residual variance for unit weight; NaN without degrees of freedom.</summary>
    public double ResidualVariance => WeightedSquares / DegreesOfFreedom;

    /// <summary>Standard deviation of the residuals for unit weight.</summary>
    public double ResidualStandardDeviation => Math.Sqrt(ResidualVariance);

    /// <summary>Standard error of a parameter, scaled by the residuals.</summary>
    public double StandardError(int parameter) => Math.Sqrt(ResidualVariance * UnscaledCovariance[parameter, parameter]);
}
