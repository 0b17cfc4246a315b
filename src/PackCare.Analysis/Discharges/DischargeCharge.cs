using PackCare.Analysis.Summaries;
using PackCare.Core.Samples;

namespace PackCare.Analysis;

/// <summary>Charge drawn down to a stated voltage, as data sheets and measurement campaigns define capacity.</summary>
public static class DischargeCharge
{
    /// <summary>
    /// Charge out from the first sample until the lowest cell first reaches the cut-off under load, by the trapezoid rule: to the
    /// moment of crossing, interpolated between samples, and to the first sample at or below the cut-off.
    /// </summary>
    /// <param name="samples">A discharge with current and cell voltages; a single cell may be logged as the pack voltage alone.</param>
    /// <param name="cutoffVolts">The cut-off of a cell, in volts.</param>
    /// <returns>Null without current or voltage, or where the cut-off is not reached while current flows out.</returns>
    public static DrawnCharge? ToCutoff(SampleSeries samples, double cutoffVolts)
    {
        using var session = new SessionSamples(samples);
        IReadOnlyList<SampleColumn> cells = session.Cells.Count > 0 ? session.Cells : session.PackVolts is { } pack ? [pack] : [];
        if (session.Current is not { } current || cells.Count == 0)
        {
            return null;
        }

        double ampereSeconds = 0;
        for (int i = 1; i < session.Count; i++)
        {
            double before = cells.Min(cell => cell[i - 1]);
            double after = cells.Min(cell => cell[i]);
            double seconds = session.Time[i] - session.Time[i - 1];
            double from = Math.Max(0, -current[i - 1]);
            double to = Math.Max(0, -current[i]);
            if (after <= cutoffVolts && before > cutoffVolts && from > 0 && double.IsFinite(to))
            {
                double part = (before - cutoffVolts) / (before - after);
                double there = from + (part * (to - from));
                return new DrawnCharge((ampereSeconds + ((from + there) / 2 * seconds * part)) / 3600, (ampereSeconds + ((from + to) / 2 * seconds)) / 3600);
            }

            if (double.IsFinite(from + to))
            {
                ampereSeconds += (from + to) / 2 * seconds;
            }
        }

        return null;
    }
}
