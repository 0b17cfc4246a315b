namespace PackCare.Analysis.Summaries;

/// <summary>The stretch of a session with current in its main direction, averaged over even steps of charge.</summary>
/// <param name="Charge">Mean net charge since the start in each bin, in ampere hours, rising.</param>
/// <param name="Volts">Cell voltages freed of I R, in volts, one array a cell.</param>
/// <param name="Current">Mean current in each bin, in amperes.</param>
internal sealed record BinnedCurves(double[] Charge, IReadOnlyList<double[]> Volts, double[] Current)
{
    /// <summary>Makes the curves; null where too little charge flowed.</summary>
    /// <param name="session">The samples.</param>
    /// <param name="charge">The count.</param>
    /// <param name="ohms">Resistance of each cell, or null to leave voltages as they are.</param>
    /// <param name="bins">How many steps.</param>
    /// <param name="settleSeconds">How long after every change of current the readings are left out.</param>
    public static BinnedCurves? Of(SessionArrays session, ChargeCount charge, IReadOnlyList<double>? ohms, int bins, double settleSeconds)
    {
        double[] current = session.Current!;
        int sign = charge.InAh >= charge.OutAh ? 1 : -1;
        double least = 0.2 * session.PeakAmperes;
        int[] used = [.. Settled(session, current, sign, least, settleSeconds)];
        if (used.Length < bins / 4)
        {
            return null;
        }

        double low = used.Min(i => charge.RunningAh[i]);
        double high = used.Max(i => charge.RunningAh[i]);
        if (!(high > low))
        {
            return null;
        }

        var groups = used
            .Where(i => session.Cells.All(cell => double.IsFinite(cell[i])))
            .GroupBy(i => Math.Min(bins - 1, (int)((charge.RunningAh[i] - low) / (high - low) * bins)))
            .OrderBy(group => group.Key)
            .Select(group => group.ToArray())
            .ToList();
        return new BinnedCurves(
            [.. groups.Select(group => group.Average(i => charge.RunningAh[i]))],
            [.. session.Cells.Select((volts, cell) => groups.Select(group => group.Average(i => volts[i] - (ohms is null ? 0 : current[i] * ohms[cell]))).ToArray())],
            [.. groups.Select(group => group.Average(i => current[i]))]);
    }

    // After a change of current the slow part of the voltage drop builds up, and not alike in every cell.
    private static IEnumerable<int> Settled(SessionArrays session, double[] current, int sign, double least, double settleSeconds)
    {
        double since = double.NegativeInfinity;
        double change = 0.1 * session.PeakAmperes;
        for (int i = 0; i < session.Count; i++)
        {
            if (i == 0 || !(Math.Abs(current[i] - current[i - 1]) <= change))
            {
                since = session.Time[i];
            }

            if (current[i] * sign >= least && session.Time[i] - since >= settleSeconds)
            {
                yield return i;
            }
        }
    }
}
