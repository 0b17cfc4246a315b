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
    public static BinnedCurves? Of(SessionSamples session, ChargeCount charge, double[]? ohms, int bins, double settleSeconds)
    {
        int sign = charge.InAh >= charge.OutAh ? 1 : -1;
        var walk = new Settled(session, sign, settleSeconds);
        int used = 0;
        double low = double.PositiveInfinity;
        double high = double.NegativeInfinity;
        for (int i = walk.Next(0); i < session.Count; i = walk.Next(i + 1))
        {
            used++;
            low = Math.Min(low, charge.RunningAh[i]);
            high = Math.Max(high, charge.RunningAh[i]);
        }

        return used < bins / 4 || !(high > low) ? null : Fill(session, charge, ohms, bins, new Settled(session, sign, settleSeconds), low, high);
    }

    private static BinnedCurves Fill(SessionSamples session, ChargeCount charge, double[]? ohms, int bins, Settled walk, double low, double high)
    {
        SampleColumn current = session.Current!;
        var counts = new int[bins];
        var charges = new double[bins];
        var currents = new double[bins];
        double[][] volts = [.. session.Cells.Select(_ => new double[bins])];
        SampleColumn[] cells = [.. session.Cells];
        for (int i = walk.Next(0); i < session.Count; i = walk.Next(i + 1))
        {
            if (!double.IsFinite(session.CellSum[i]))
            {
                continue;
            }

            double there = charge.RunningAh[i];
            double amperes = current[i];
            int bin = Math.Min(bins - 1, (int)((there - low) / (high - low) * bins));
            counts[bin]++;
            charges[bin] += there;
            currents[bin] += amperes;
            for (int cell = 0; cell < volts.Length; cell++)
            {
                volts[cell][bin] += cells[cell][i] - (ohms is null ? 0 : amperes * ohms[cell]);
            }
        }

        int[] filled = [.. Enumerable.Range(0, bins).Where(bin => counts[bin] > 0)];
        double[] Means(double[] sums) => [.. filled.Select(bin => sums[bin] / counts[bin])];
        return new BinnedCurves(Means(charges), [.. volts.Select(Means)], Means(currents));
    }

    // After a change of current the slow part of the voltage drop builds up, and not alike in every cell.
    private sealed class Settled(SessionSamples session, int sign, double settleSeconds)
    {
        private readonly SampleColumn _current = session.Current!;
        private readonly SampleColumn _time = session.Time;
        private readonly int _count = session.Count;
        private readonly double _least = 0.2 * session.PeakAmperes;
        private readonly double _change = 0.1 * session.PeakAmperes;
        private double _since = double.NegativeInfinity;
        private double _before = double.NaN;

        /// <summary>The first sample from one on, asked for in order, at which current had flowed steadily for long enough; the sample count where there is none.</summary>
        public int Next(int from)
        {
            for (int i = from; i < _count; i++)
            {
                double now = _current[i];
                if (!(Math.Abs(now - _before) <= _change))
                {
                    _since = _time[i];
                }

                _before = now;
                if (now * sign >= _least && _time[i] - _since >= settleSeconds)
                {
                    return i;
                }
            }

            return _count;
        }
    }
}
