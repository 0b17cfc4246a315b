using PackCare.Import.Sessions;

namespace PackCare.Import.Meanings;

/// <summary>How fast the cells went through their range of voltages, which a unit of time that is open has to make possible.</summary>
internal static class ChargeRate
{
    // Above these hardly any pack is charged or discharged for long; common practice, no source.
    private const double MostChargingPerHour = 4;
    private const double MostDischargingPerHour = 10;

    // From empty to full a cell spans about this under way; within the flat middle of LiFePO4 much less.
    private const double VoltsFromEmptyToFull = 1.0;
    private const double FlatFrom = 3.15;
    private const double FlatTo = 3.45;
    private const double VoltsOfFlatMiddle = 0.15;
    private const double LeastVolts = 0.02;

    /// <summary>Within seconds polarization moves the cells by about as much, in volts, and the charge by hardly anything.</summary>
    internal const double PolarizationVolts = 0.1;

    /// <summary>Whether the cells would have been charged or discharged faster than any pack can be.</summary>
    /// <param name="axis">Time, in seconds if the log's unit were what it is taken for.</param>
    /// <param name="map">Sessions.</param>
    /// <param name="voltages">Cells, or the pack.</param>
    /// <param name="current">The current, or null where there is none.</param>
    /// <param name="timeFactor">Seconds for one unit of the axis.</param>
    /// <param name="polarization">Volts of a cell that are no charge's doing.</param>
    internal static bool IsImpossible(TimeAxis axis, SessionMap map, IReadOnlyList<ColumnRole> voltages, ColumnRole? current, double timeFactor, double polarization = 0)
    {
        if (voltages.Count == 0 || axis.Blocks.Count == 0)
        {
            return false;
        }

        double[] seconds = axis.Seconds(0);
        double[][] volts = [.. voltages.Select(role => role.FirstValues)];
        double[] near = new double[volts.Length];
        double ohms = current is null ? 0 : Flow.Ohms(axis, map, voltages, current);
        double[]? amps = current is null ? null : LogColumns.Values(current, 0, 1);

        // A pack's own voltage goes further than a cell's; how many cells it has is not known, so no fewer than its highest voltage needs.
        double cells = Math.Max(1, Math.Ceiling(volts.Max(column => column.Where(double.IsFinite).DefaultIfEmpty(0).Max()) / VoltageFinder.HighestCell));
        foreach (Segment segment in map.Segments.Where(segment => segment.End <= seconds.Length))
        {
            int first = segment.Start;
            int last = segment.End - 1;
            double before = RowMath.MedianOf(volts, first, near);
            double after = RowMath.MedianOf(volts, last, near);
            double went = (after - before - (amps is null ? 0 : ohms * (amps[last] - amps[first]))) / cells;
            double hours = (seconds[last] - seconds[first]) * timeFactor / 3600;
            went -= Math.CopySign(Math.Min(Math.Abs(went), polarization), went);
            double most = went > 0 ? MostChargingPerHour : MostDischargingPerHour;
            double low = Math.Min(before, after) / cells;
            double high = Math.Max(before, after) / cells;
            double span = low > FlatFrom && high < FlatTo ? VoltsOfFlatMiddle : VoltsFromEmptyToFull;
            if (Math.Abs(went) >= LeastVolts && hours > 0 && Math.Abs(went) / span / hours > most)
            {
                return true;
            }
        }

        return false;
    }
}
