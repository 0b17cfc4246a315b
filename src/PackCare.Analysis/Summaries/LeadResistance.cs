using PackCare.Analysis.Statistics;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Summaries;

/// <summary>
/// Resistance of leads and connector: the part of the pack voltage that is not in the cells, against current. Fitted with an
/// intercept, because the two meters seldom agree at no current; so it needs currents that differ within the session.
/// </summary>
internal static class LeadResistance
{
    private const int Bins = 24;

    /// <summary>The reading; null without pack voltage, cell voltages and current that changes enough.</summary>
    /// <param name="session">The samples.</param>
    /// <param name="temperature">Its temperature.</param>
    public static ResistanceReading? Of(SessionSamples session, TemperatureSpan temperature)
    {
        if (session.Current is not { } current || session.PackVolts is not { } pack || session.Cells.Count == 0 || session.PeakAmperes <= 0)
        {
            return null;
        }

        // Mean of the excess over bins of current: evens out the rounding, and keeps one long steady stretch from counting as many observations.
        using SampleColumn excesses = Less(pack, session.CellSum);
        var bins = new (double Current, double Excess, int Count)[(2 * Bins) + 1];
        for (int page = 0; page < current.Pages; page++)
        {
            ReadOnlySpan<double> amperes = current.Page(page);
            ReadOnlySpan<double> over = excesses.Page(page);
            int last = Bins;
            (double Current, double Excess, int Count) sum = bins[last];
            for (int i = 0; i < amperes.Length; i++)
            {
                if (double.IsFinite(over[i]) && double.IsFinite(amperes[i]))
                {
                    // Most readings fall into the bin of the one before.
                    int bin = Bins + (int)Math.Round(amperes[i] / session.PeakAmperes * Bins);
                    if (bin != last)
                    {
                        bins[last] = sum;
                        (last, sum) = (bin, bins[bin]);
                    }

                    sum = (sum.Current + amperes[i], sum.Excess + over[i], sum.Count + 1);
                }
            }

            bins[last] = sum;
        }

        var points = bins.Where(bin => bin.Count > 0).Select(bin => (X: bin.Current / bin.Count, Y: bin.Excess / bin.Count, bin.Count)).ToList();
        if (points.Count < 3 || points.Max(point => point.X) - points.Min(point => point.X) < 0.3 * session.PeakAmperes)
        {
            return null;
        }

        double step = Math.Max(pack.Figures.Step, 0.001);
        double rounding = step / Math.Sqrt(12) * Math.Sqrt(1 + session.Cells.Count);
        double noise = Noise.Of([excesses], current, session.ChangeAmperes)[0];
        // Rounding errors of a slowly moving voltage repeat from sample to sample, hence no credit beyond 12 readings a bin, unless noise
        // of more than half a step shakes them up.
        bool shaken = noise > 0.5 * step;
        double[] weights = [.. points.Select(point => 1 / ((shaken ? 0 : rounding * rounding / Math.Min(point.Count, 12)) + (noise * noise / point.Count)))];
        if (WeightedLine.Fit([.. points.Select(point => point.X)], [.. points.Select(point => point.Y)], weights) is not { } line)
        {
            return null;
        }

        double error = Math.Sqrt(line.SlopeUnscaled * Math.Max(1, line.WeightedSquares / (points.Count - 2)));
        return new ResistanceReading(line.Slope, error, points.Count, 0, temperature.OfReadings);
    }

    private static SampleColumn Less(SampleColumn from, SampleColumn take) => new(from.Length, (page, into) =>
    {
        ReadOnlySpan<double> more = from.Page(page);
        ReadOnlySpan<double> less = take.Page(page);
        for (int i = 0; i < more.Length; i++)
        {
            into[i] = more[i] - less[i];
        }
    });
}
