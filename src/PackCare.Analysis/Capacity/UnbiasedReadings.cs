using MathNet.Numerics.LinearAlgebra;
using PackCare.Analysis.Assessments;
using PackCare.Analysis.Statistics;
using PackCare.Analysis.Trends;

namespace PackCare.Analysis.Capacity;

/// <summary>Readings with the curve's error taken off as far as they tell it, and what is left of that error, which they share.</summary>
/// <param name="Readings">The readings, in order of time.</param>
/// <param name="Bends">What each part of the curve's error does to each reading, in ampere hours; null where nothing was taken off.</param>
/// <param name="Covariance">Covariance of the parts; null likewise.</param>
internal sealed record UnbiasedReadings(IReadOnlyList<CapacityReading> Readings, double[][]? Bends, Matrix<double>? Covariance)
{
    /// <summary>
    /// The line's own covariance enlarged by the readings' shared error: with (a, b) = L y for the weighted fit, L B S B' L' is added,
    /// where S is the covariance of the parts and B what they do to the readings.
    /// </summary>
    /// <param name="trend">A trend fitted to the readings.</param>
    /// <param name="points">The points that it was fitted to.</param>
    /// <param name="shares">What share of its weight each of them had.</param>
    public Trend Widen(Trend trend, IReadOnlyList<WeightedPoint> points, IReadOnlyList<double> shares)
    {
        if (trend is not Trend.Fitted line || Bends is null || Covariance is null)
        {
            return trend;
        }

        double[] weights = [.. points.Select((point, i) => point.At < line.Origin ? 0 : shares[i] / (point.StandardError * point.StandardError))];
        double[] days = [.. points.Select(point => (point.At - line.Origin).TotalDays)];
        double w = weights.Sum();
        double wx = weights.Zip(days, (weight, day) => weight * day).Sum();
        double wxx = weights.Zip(days, (weight, day) => weight * day * day).Sum();
        double determinant = (w * wxx) - (wx * wx);
        if (!(determinant > 0))
        {
            return trend;
        }

        Matrix<double> carried = Matrix<double>.Build.Dense(2, Covariance.RowCount, (row, node) => Enumerable.Range(0, weights.Length).Sum(i =>
            (row == 0 ? (wxx - (wx * days[i])) : ((w * days[i]) - wx)) * weights[i] / determinant * Bends[i][node]));
        Matrix<double> shared = carried * Covariance * carried.Transpose();
        return line with
        {
            Intercept = Estimates.Widen(line.Intercept, Math.Sqrt(Math.Max(0, shared[0, 0]))),
            SlopePerDay = Estimates.Widen(line.SlopePerDay, Math.Sqrt(Math.Max(0, shared[1, 1]))),
            InterceptSlopeCovariance = line.InterceptSlopeCovariance + shared[0, 1],
        };
    }

    /// <summary>What is left of the curve's error in a mean of the latest readings, in ampere hours.</summary>
    public double LeftInLatest(int count) => Readings.TakeLast(count).Average(reading => reading.CurveError);
}
