using PackCare.Core.Samples;

namespace PackCare.Analysis.Summaries;

/// <summary>A session's samples by channel.</summary>
internal sealed class SessionSamples : IDisposable
{
    public SessionSamples(SampleSeries samples)
    {
        Time = SampleColumn.Of(samples[ChannelKey.Time])!;
        Current = SampleColumn.Of(samples[ChannelKey.Current]);
        PackVolts = SampleColumn.Of(samples[ChannelKey.PackVoltage]);
        ChargeCounter = SampleColumn.Of(samples[ChannelKey.Charge]);
        Cells = [.. Enumerable.Range(1, samples.CellCount).Select(cell => SampleColumn.Of(samples[ChannelKey.Cell(cell)])!)];
        InstrumentOhms = [.. Enumerable.Range(1, samples.CellCount).Select(cell => SampleColumn.Of(samples[ChannelKey.CellResistance(cell)]))];
        Temperature = SampleColumn.Of(samples[ChannelKey.Temperature(1)]);
        CellSum = new SampleColumn(Count, SumOfCells);
        IntervalSeconds = MedianInterval(Time);
        CurrentResolution = Current is null ? 0 : Math.Min(Resolution.OfLastDigit(Current), 0.1);
        PeakAmperes = Current?.Figures.Peak ?? 0;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (SampleColumn? column in (SampleColumn?[])[Time, Current, PackVolts, ChargeCounter, CellSum, Temperature, .. Cells, .. InstrumentOhms])
        {
            column?.Dispose();
        }
    }

    /// <summary>Seconds since the start.</summary>
    public SampleColumn Time { get; }

    /// <summary>Amperes, charging positive; null where not logged.</summary>
    public SampleColumn? Current { get; }

    /// <summary>Pack volts; null where not logged.</summary>
    public SampleColumn? PackVolts { get; }

    /// <summary>The logger's own charge counter in ampere hours; null where not logged.</summary>
    public SampleColumn? ChargeCounter { get; }

    /// <summary>Cell volts, one column a cell.</summary>
    public IReadOnlyList<SampleColumn> Cells { get; }

    /// <summary>The sum of the cells in volts; NaN where one has no reading.</summary>
    public SampleColumn CellSum { get; }

    /// <summary>Resistances stated by the instrument, in ohms, one column a cell; null where not logged.</summary>
    public IReadOnlyList<SampleColumn?> InstrumentOhms { get; }

    /// <summary>Degrees Celsius of the first sensor; null where not logged.</summary>
    public SampleColumn? Temperature { get; }

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

    /// <summary>A change of current by more than this is one; by less it counts as steady: three steps of the log, or 3 % of the session's peak.</summary>
    public double ChangeAmperes => Math.Max(3 * CurrentResolution, 0.03 * PeakAmperes);

    /// <summary>Whether the pack is at rest at a sample; a session without a current channel never tells.</summary>
    public bool IsRest(int sample) => Current is not null && Math.Abs(Current[sample]) <= RestAmperes;

    private void SumOfCells(int page, double[] into)
    {
        Array.Clear(into);
        foreach (SampleColumn cell in Cells)
        {
            ReadOnlySpan<double> volts = cell.Page(page);
            for (int i = 0; i < volts.Length; i++)
            {
                into[i] += volts[i];
            }
        }
    }

    private static double? MedianInterval(SampleColumn time)
    {
        if (time.Length < 2)
        {
            return null;
        }

        using var gaps = new SampleColumn(time.Length - 1, (page, into) =>
        {
            int first = page * SampleColumn.PageRows;
            int end = Math.Min(first + into.Length, time.Length - 1);
            double before = time[first];
            for (int i = first; i < end; i++)
            {
                double next = time[i + 1];
                into[i - first] = next - before;
                before = next;
            }
        });
        double median = Ranks.Of(gaps, gaps.Length / 2);
        return median > 0 ? median : LeastAbove(gaps, 0);
    }

    private static double? LeastAbove(SampleColumn values, double limit)
    {
        double least = double.PositiveInfinity;
        for (int page = 0; page < values.Pages; page++)
        {
            foreach (double value in values.Page(page))
            {
                least = value > limit ? Math.Min(least, value) : least;
            }
        }

        return double.IsFinite(least) ? least : null;
    }
}
