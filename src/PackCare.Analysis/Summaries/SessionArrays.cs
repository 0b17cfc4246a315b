using PackCare.Core.Samples;

namespace PackCare.Analysis.Summaries;

/// <summary>A session's samples as plain arrays; NaN where there was no reading.</summary>
internal sealed class SessionArrays
{
    public SessionArrays(SampleSeries samples)
    {
        Time = samples.TimeSeconds();
        Current = samples.Values(ChannelKey.Current);
        PackVolts = samples.Values(ChannelKey.PackVoltage);
        ChargeCounter = samples.Values(ChannelKey.Charge);
        EnergyCounter = samples.Values(ChannelKey.Energy);
        Cells = [.. Enumerable.Range(1, samples.CellCount).Select(cell => samples.Values(ChannelKey.Cell(cell))!)];
        InstrumentOhms = [.. Enumerable.Range(1, samples.CellCount).Select(cell => samples.Values(ChannelKey.CellResistance(cell)))];
        Temperature = samples.Values(ChannelKey.Temperature(1));
        IntervalSeconds = MedianInterval(Time);
        CurrentResolution = Current is null ? 0 : Math.Min(Resolution.OfLastDigit(Current), 0.1);
        PeakAmperes = Current is null ? 0 : Current.Where(double.IsFinite).Select(Math.Abs).DefaultIfEmpty(0).Max();
    }

    /// <summary>Seconds since the start.</summary>
    public double[] Time { get; }

    /// <summary>Amperes, charging positive; null where not logged.</summary>
    public double[]? Current { get; }

    /// <summary>Pack volts; null where not logged.</summary>
    public double[]? PackVolts { get; }

    /// <summary>The logger's own charge counter in ampere hours; null where not logged.</summary>
    public double[]? ChargeCounter { get; }

    /// <summary>The logger's own energy counter in watt hours; null where not logged.</summary>
    public double[]? EnergyCounter { get; }

    /// <summary>Cell volts, one array a cell.</summary>
    public IReadOnlyList<double[]> Cells { get; }

    /// <summary>Resistances stated by the instrument, in ohms, one array a cell; null where not logged.</summary>
    public IReadOnlyList<double[]?> InstrumentOhms { get; }

    /// <summary>Degrees Celsius of the first sensor; null where not logged.</summary>
    public double[]? Temperature { get; }

    /// <summary>Median time between samples; null with fewer than two.</summary>
    public double? IntervalSeconds { get; }

    /// <summary>One unit of the current's last logged digit, in amperes, and at most 0.1.</summary>
    public double CurrentResolution { get; }

    /// <summary>Highest current either way, in amperes.</summary>
    public double PeakAmperes { get; }

    /// <summary>How many samples.</summary>
    public int Count => Time.Length;

    /// <summary>
    /// At or below this the pack counts as at rest: one and a half steps of the log (an idle meter flickers by one),
    /// or half a percent of the session's own peak, which an idle instrument's offset seldom exceeds.
    /// </summary>
    public double RestAmperes => Math.Max(1.5 * CurrentResolution, 0.005 * PeakAmperes);

    /// <summary>Whether the pack is at rest at a sample; a session without a current channel never tells.</summary>
    public bool IsRest(int sample) => Current is not null && Math.Abs(Current[sample]) <= RestAmperes;

    private static double? MedianInterval(double[] time)
    {
        if (time.Length < 2)
        {
            return null;
        }

        double[] gaps = [.. time.Zip(time.Skip(1), (a, b) => b - a)];
        Array.Sort(gaps);
        double median = gaps[gaps.Length / 2];
        return median > 0 ? median : gaps.FirstOrDefault(gap => gap > 0) is > 0 and var gap ? gap : null;
    }
}
