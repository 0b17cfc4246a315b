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
    public static ResistanceReading? Of(SessionSamples session)
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
            for (int i = 0; i < amperes.Length; i++)
            {
                if (double.IsFinite(over[i]) && double.IsFinite(amperes[i]))
                {
                    ref var bin = ref bins[Bins + (int)Math.Round(amperes[i] / session.PeakAmperes * Bins)];
                    bin = (bin.Current + amperes[i], bin.Excess + over[i], bin.Count + 1);
                }
            }
        }

        var points = bins.Where(bin => bin.Count > 0).Select(bin => (X: bin.Current / bin.Count, Y: bin.Excess / bin.Count, bin.Count)).ToList();
        if (points.Count < 3 || points.Max(point => point.X) - points.Min(point => point.X) < 0.3 * session.PeakAmperes)
        {
            return null;
        }

        var design = new double[points.Count, 2];
        for (int i = 0; i < points.Count; i++)
        {
            design[i, 0] = 1;
            design[i, 1] = points[i].X;
        }

        double step = Math.Max(pack.Figures.Step, 0.001);
        double rounding = step / Math.Sqrt(12) * Math.Sqrt(1 + session.Cells.Count);
        double active = Math.Max(3 * session.CurrentResolution, 0.03 * session.PeakAmperes);
        double noise = Noise.Of([excesses], current, active)[0];
        // Rounding errors of a slowly moving voltage repeat from sample to sample, hence no credit beyond 12 readings a bin, unless noise
        // of more than half a step shakes them up.
        bool shaken = noise > 0.5 * step;
        double[] weights = [.. points.Select(point => 1 / ((shaken ? 0 : rounding * rounding / Math.Min(point.Count, 12)) + (noise * noise / point.Count)))];
        LinearFit? fit = LinearModel.Fit(design, [.. points.Select(point => point.Y)], weights);
        if (fit is null)
        {
            return null;
        }

        double error = Math.Sqrt(fit.UnscaledCovariance[1, 1] * Math.Max(1, fit.ResidualVariance));
        return new ResistanceReading(fit.Parameters[1], error, points.Count, 0, TemperatureSpan.Average(session.Temperature));
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
