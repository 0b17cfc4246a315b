using PackCare.Core.Samples;

namespace PackCare.Report.Charts;

/// <summary>The samples of the last charge as arrays.</summary>
/// <param name="Minutes">Time since the start, in minutes.</param>
/// <param name="CellVolts">One series a cell, in volts; NaN where there is no reading.</param>
/// <param name="PackVolts">Pack voltage in volts, or null.</param>
/// <param name="Amperes">Current in amperes, charging positive, or null.</param>
/// <param name="AmpereHours">Charge that flowed in since the start, in ampere hours, or null.</param>
/// <param name="Celsius">Temperature of the first sensor in degrees Celsius, or null.</param>
internal sealed record ChargeCurve(
    double[] Minutes,
    IReadOnlyList<double[]> CellVolts,
    double[]? PackVolts,
    double[]? Amperes,
    double[]? AmpereHours,
    double[]? Celsius)
{
    /// <summary>Reads samples.</summary>
    public static ChargeCurve Of(SampleSeries samples)
    {
        double[] seconds = samples.TimeSeconds();
        double[]? amperes = Seen(samples.Values(ChannelKey.Current));
        double[]? celsius = samples.Channels.Where(channel => channel.Key.Kind == ChannelKind.Temperature).Select(channel => Seen(channel.ToDoubles())).FirstOrDefault(values => values is not null);
        return new ChargeCurve(
            Array.ConvertAll(seconds, second => second / 60),
            [.. Enumerable.Range(1, samples.CellCount).Select(cell => samples.Values(ChannelKey.Cell(cell))!)],
            Seen(samples.Values(ChannelKey.PackVoltage)),
            amperes,
            amperes is null ? Seen(samples.Values(ChannelKey.Charge)) : Integrate(seconds, amperes),
            celsius);
    }

    private readonly Lazy<double[]> _medians = new(() => MediansOf(CellVolts, Minutes.Length));

    /// <summary>Median of the cells at each row, in volts; NaN where one has no reading.</summary>
    public double[] Medians => _medians.Value;

    private static double[] MediansOf(IReadOnlyList<double[]> cells, int rows)
    {
        var medians = new double[rows];
        var sorted = new double[cells.Count];
        int middle = cells.Count / 2;
        for (int row = 0; row < rows; row++)
        {
            for (int cell = 0; cell < sorted.Length; cell++)
            {
                sorted[cell] = cells[cell][row];
            }

            // NaN sorts first.
            Array.Sort(sorted);
            medians[row] = sorted.Length == 0 || double.IsNaN(sorted[0]) ? double.NaN
                : sorted.Length % 2 == 1 ? sorted[middle]
                : (sorted[middle - 1] + sorted[middle]) / 2;
        }

        return medians;
    }

    // Trapezoid; across a missing reading the last one counts on.
    private static double[] Integrate(double[] seconds, double[] amperes)
    {
        var charge = new double[seconds.Length];
        double last = double.IsNaN(amperes[0]) ? 0 : amperes[0];
        for (int i = 1; i < seconds.Length; i++)
        {
            double now = double.IsNaN(amperes[i]) ? last : amperes[i];
            charge[i] = charge[i - 1] + ((last + now) / 2 * (seconds[i] - seconds[i - 1]) / 3600);
            last = now;
        }

        return charge;
    }

    private static double[]? Seen(double[]? values) => values is not null && values.Any(double.IsFinite) ? values : null;
}
