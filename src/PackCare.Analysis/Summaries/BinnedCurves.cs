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
        List<(int Page, int From, int To)> settled = Settled(session, charge.InAh >= charge.OutAh ? 1 : -1, settleSeconds);
        int used = 0;
        double low = double.PositiveInfinity;
        double high = double.NegativeInfinity;
        foreach ((int page, int from, int to) in settled)
        {
            used += to - from;
            foreach (double there in charge.RunningAh.Page(page)[from..to])
            {
                low = Math.Min(low, there);
                high = Math.Max(high, there);
            }
        }

        return used < bins / 4 || !(high > low) ? null : Fill(session, charge, ohms, bins, settled, low, high);
    }

    private static BinnedCurves Fill(SessionSamples session, ChargeCount charge, double[]? ohms, int bins, List<(int Page, int From, int To)> settled, double low, double high)
    {
        var counts = new int[bins];
        var charges = new double[bins];
        var currents = new double[bins];
        double[][] volts = [.. session.Cells.Select(_ => new double[bins])];
        SampleColumn[] cells = [.. session.Cells];
        foreach ((int page, int from, int to) in settled)
        {
            ReadOnlySpan<double> sums = session.CellSum.Page(page);
            ReadOnlySpan<double> there = charge.RunningAh.Page(page);
            ReadOnlySpan<double> amperes = session.Current!.Page(page);
            for (int i = from; i < to;)
            {
                if (!double.IsFinite(sums[i]))
                {
                    i++;
                    continue;
                }

                // Charge hardly moves from one sample to the next, so that many in a row fall into one bin.
                int first = i;
                int bin = BinOf(there[i]);
                for (; i < to && double.IsFinite(sums[i]) && BinOf(there[i]) == bin; i++)
                {
                    counts[bin]++;
                    charges[bin] += there[i];
                    currents[bin] += amperes[i];
                }

                for (int cell = 0; cell < cells.Length; cell++)
                {
                    volts[cell][bin] = Add(volts[cell][bin], cells[cell].Page(page)[first..i], amperes[first..i], ohms is null ? 0 : ohms[cell]);
                }
            }
        }

        int[] filled = [.. Enumerable.Range(0, bins).Where(bin => counts[bin] > 0)];
        double[] Means(double[] sums) => [.. filled.Select(bin => sums[bin] / counts[bin])];
        return new BinnedCurves(Means(charges), [.. volts.Select(Means)], Means(currents));

        int BinOf(double ampereHours) => Math.Min(bins - 1, (int)((ampereHours - low) / (high - low) * bins));
    }

    // In the order of the samples, whichever stretch they came in.
    private static double Add(double sum, ReadOnlySpan<double> volts, ReadOnlySpan<double> amperes, double ohms)
    {
        for (int i = 0; i < volts.Length; i++)
        {
            sum += volts[i] - (amperes[i] * ohms);
        }

        return sum;
    }

    // The stretches, each within one page, in which current had flowed in the main direction and steadily for long enough: after a
    // change of current the slow part of the voltage drop builds up, and not alike in every cell.
    private static List<(int Page, int From, int To)> Settled(SessionSamples session, int sign, double settleSeconds)
    {
        double least = 0.2 * session.PeakAmperes;
        double change = 0.1 * session.PeakAmperes;
        double since = double.NegativeInfinity;
        double before = double.NaN;
        var stretches = new List<(int Page, int From, int To)>();
        for (int page = 0; page < session.Current!.Pages; page++)
        {
            ReadOnlySpan<double> current = session.Current.Page(page);
            ReadOnlySpan<double> time = session.Time.Page(page);
            int from = -1;
            for (int i = 0; i < current.Length; i++)
            {
                double now = current[i];
                if (!(Math.Abs(now - before) <= change))
                {
                    since = time[i];
                }

                before = now;
                if (now * sign >= least && time[i] - since >= settleSeconds)
                {
                    from = from < 0 ? i : from;
                }
                else if (from >= 0)
                {
                    stretches.Add((page, from, i));
                    from = -1;
                }
            }

            if (from >= 0)
            {
                stretches.Add((page, from, current.Length));
            }
        }

        return stretches;
    }
}
