namespace PackCare.Import.Meanings;

/// <summary>
/// What the voltage does with the current of the moment and with the charge that has flowed: least squares of volts over amperes and
/// ampere-seconds, each stretch of a log about its own mean. Both slopes are positive where a positive current charges. It tells the direction
/// under a load that never stands still, where single steps and stretches tell little.
/// </summary>
internal readonly record struct FlowTrend
{
    private const int LeastRows = 20;
    private const double LeastVolts = 0.03;

    // What is left unexplained, as a part of what the charge explains. Cells that rise and fall under a current without a sign leave much more.
    private const double MostRest = 0.25;

    // Under a current that dies away the charge so far goes as the current itself does, and neither can be told from the other.
    private const double LeastApart = 0.05;

    /// <summary>Volts for an ampere, by the sign as it was logged.</summary>
    internal double Ohms { get; private init; }

    /// <summary>The sign of the slope over charge; 0 where it is not sure.</summary>
    internal int Direction { get; private init; }

    /// <summary>Fits the rows.</summary>
    internal static FlowTrend Of(FlowRows rows)
    {
        var sums = new Sums();
        double lowest = double.PositiveInfinity;
        double highest = double.NegativeInfinity;
        int from = 0;
        double[] charges = new double[rows.Rows.Count];
        for (int i = 0; i <= rows.Rows.Count; i++)
        {
            if (i == rows.Rows.Count || (i > from && !rows.Follows(i)))
            {
                AddStretch(rows, charges, from, i, ref sums);
                from = i;
            }

            if (i < rows.Rows.Count)
            {
                charges[i] = i == from ? 0 : charges[i - 1] + (rows.Rows[i - 1].Amps * (rows.Rows[i].Seconds - rows.Rows[i - 1].Seconds));
                (lowest, highest) = (Math.Min(lowest, charges[i]), Math.Max(highest, charges[i]));
            }
        }

        double determinant = (sums.AA * sums.QQ) - (sums.AQ * sums.AQ);
        if (sums.Rows < LeastRows || !(determinant > LeastApart * sums.AA * sums.QQ))
        {
            return default;
        }

        double ohms = ((sums.AV * sums.QQ) - (sums.QV * sums.AQ)) / determinant;
        double slope = ((sums.QV * sums.AA) - (sums.AV * sums.AQ)) / determinant;
        double explained = Math.Abs(slope) * (highest - lowest);
        double rest = Math.Sqrt(Math.Max(0, sums.VV - (ohms * sums.AV) - (slope * sums.QV)) / sums.Rows);
        bool isSure = explained >= LeastVolts && rest <= MostRest * explained && Math.Sign(ohms) == Math.Sign(slope);
        return isSure ? new FlowTrend { Ohms = ohms, Direction = Math.Sign(slope) } : default;
    }

    private static void AddStretch(FlowRows rows, double[] charges, int from, int to, ref Sums sums)
    {
        int count = 0;
        (double amps, double charge, double volts) = (0, 0, 0);
        for (int i = from; i < to; i++)
        {
            if (Counts(rows.Rows[i]))
            {
                count++;
                (amps, charge, volts) = (amps + rows.Rows[i].Amps, charge + charges[i], volts + rows.Rows[i].Volts);
            }
        }

        (amps, charge, volts) = (amps / count, charge / count, volts / count);
        for (int i = from; i < to; i++)
        {
            if (Counts(rows.Rows[i]))
            {
                sums.Add(rows.Rows[i].Amps - amps, charges[i] - charge, rows.Rows[i].Volts - volts);
            }
        }

        bool Counts(FlowRow row) => double.IsFinite(row.Volts) && Math.Abs(row.Amps) <= 1.01 * rows.Largest;
    }

    private struct Sums
    {
        internal int Rows;
        internal double AA;
        internal double AQ;
        internal double QQ;
        internal double AV;
        internal double QV;
        internal double VV;

        internal void Add(double amps, double charge, double volts)
        {
            Rows++;
            AA += amps * amps;
            AQ += amps * charge;
            QQ += charge * charge;
            AV += amps * volts;
            QV += charge * volts;
            VV += volts * volts;
        }
    }
}
