using MathNet.Numerics.Statistics;
using PackCare.Analysis.Chemistries;
using PackCare.Analysis.Records;
using PackCare.Analysis.Statistics;
using PackCare.Core.Estimates;

namespace PackCare.Analysis.Imbalance;

/// <summary>How far the cells of one rest reading stand apart in state of charge.</summary>
internal static class CellOffsets
{
    /// <summary>Beyond this standard error, in percent, the curve is too flat at that voltage to tell.</summary>
    public const double LargestErrorPercent = 3;

    // The slope of the published curve at one voltage is taken to hold for another maker's cell to a fifth (ours, no source).
    private const double SlopeError = 0.2;

    /// <summary>Each cell's state of charge less the median of all, in percent of capacity; empty where the curve is too flat.</summary>
    public static IReadOnlyList<Estimate> Percent(RestReading reading, RestVoltageCurve curve)
    {
        double slope = curve.SlopeAt(reading.MedianVolts);
        double reading1 = 100 * reading.DifferenceError / slope;
        if (reading1 > LargestErrorPercent)
        {
            return [];
        }

        double[] soc = [.. reading.Volts.Select(curve.SocAt)];
        double median = soc.Median();
        return [.. soc.Select(value =>
        {
            double percent = 100 * (value - median);
            return Estimates.FromNormal(percent, Math.Sqrt((reading1 * reading1) + Math.Pow(SlopeError * percent, 2)), 1);
        })];
    }

    /// <summary>Each cell's value less the median of the other cells' values; in a pack of two, the difference of the two.</summary>
    public static double[] AgainstOthers(IReadOnlyList<double> values) =>
        [.. values.Select((value, i) => value - values.Where((_, j) => j != i).DefaultIfEmpty(value).Median())];

    /// <summary>The cell, from 1, that stands farthest from the others; of two that stand apart from each other, the lower.</summary>
    public static int Farthest(IReadOnlyList<double> volts)
    {
        double[] against = AgainstOthers(volts);
        double most = against.Max(Math.Abs);
        return 1 + Enumerable.Range(0, against.Length).Where(i => Math.Abs(against[i]) >= most - 1e-9).MinBy(i => against[i]);
    }
}
