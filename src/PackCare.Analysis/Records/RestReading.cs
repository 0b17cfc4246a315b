using MathNet.Numerics.Statistics;

namespace PackCare.Analysis.Records;

/// <summary>All cells of the pack at rest at one moment.</summary>
/// <param name="At">When.</param>
/// <param name="SessionId">The session; null for a spot check.</param>
/// <param name="Source">Where it comes from.</param>
/// <param name="AfterFullCharge">Whether a completed charge had just ended.</param>
/// <param name="Volts">One voltage a cell.</param>
/// <param name="DifferenceError">One standard error of a difference between two cells, in volts.</param>
/// <param name="LevelError">One standard error of the common level as a rest voltage, in volts.</param>
/// <param name="SettlingError">One standard error of what the difference between two cells still has to settle by, alike after every such session, in volts.</param>
internal sealed record RestReading(
    DateTimeOffset At,
    long? SessionId,
    RestSource Source,
    bool AfterFullCharge,
    IReadOnlyList<double> Volts,
    double DifferenceError,
    double LevelError,
    double SettlingError = 0)
{
    /// <summary>Mean cell voltage.</summary>
    public double MeanVolts => Volts.Average();

    /// <summary>Median cell voltage.</summary>
    public double MedianVolts => Volts.Median();

    /// <summary>Highest less lowest cell, in millivolts.</summary>
    public double SpreadMillivolts => (Volts.Max() - Volts.Min()) * 1000;

    /// <summary>Each cell less the median, in millivolts.</summary>
    public IReadOnlyList<double> DeviationMillivolts
    {
        get
        {
            double median = MedianVolts;
            return [.. Volts.Select(volts => (volts - median) * 1000)];
        }
    }
}
