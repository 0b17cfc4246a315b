using MathNet.Numerics.Statistics;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Summaries;

/// <summary>What the instrument itself states; never mixed with resistances from current steps, since it measures in another way.</summary>
internal static class InstrumentResistance
{
    /// <summary>Median of the readings above zero; null where there is none.</summary>
    public static ResistanceReading? Of(double[]? ohms, double? meanCelsius)
    {
        double[] readings = ohms is null ? [] : [.. ohms.Where(value => value > 0 && double.IsFinite(value))];
        if (readings.Length == 0)
        {
            return null;
        }

        double step = Resolution.Of(readings);
        double rounding = (step > 0 ? step : 0.0001) / Math.Sqrt(12);
        // A display that is refreshed now and then repeats itself; only changes are news.
        int changes = 1 + readings.Zip(readings.Skip(1), (a, b) => a == b ? 0 : 1).Sum();
        double scatter = readings.Length < 2 ? 0 : readings.StandardDeviation() / Math.Sqrt(changes);
        return new ResistanceReading(readings.Median(), Math.Max(rounding, scatter), changes, 0, meanCelsius);
    }
}
