namespace PackCare.Import.Meanings;

/// <summary>
/// Holds a current whose sign is settled against what the cells do in each stretch of it: one that fills them while they empty was damaged there, or
/// has no sign. So is one during which they fill by far more than any pack's charge, or far less, accounts for.
/// </summary>
internal static class AgainstTheCells
{
    private const int FewestRows = 5;

    // Volts of a cell. After a heavy load cells rise for minutes under a light one, and cold ones rise while they warm up; neither goes so far. Common practice, no source.
    private const double MostAdverse = 0.15;

    // The same under a current that stays, so that no heavier load came before; and what makes it one.
    private const double MostAdverseAlone = 0.08;
    private const double Steady = 1.3;

    // The same of a current that has one sign throughout, where nothing but the cells tells its sign, and they go that way only.
    private const double MostAdverseUnsigned = 0.03;
    private const double OneWay = 10;
    private const int RowsOfOneWay = 10;

    // Of the session's largest current, and how often the voltage has to step further than what can be told from noise.
    private const double LargeStep = 0.5;
    private const double SureStep = 3;

    // Volts of a cell. The smallest packs of the trade hold some 20 mAh; their voltage does not go so far for less than this charge. Common practice, no source.
    private const double FarVolts = 0.3;
    private const double LeastAmpereHours = 0.004;

    // No pack in a vehicle holds nearly as much, and those that are charged by hand hardly a tenth; common practice, no source.
    private const double MostAmpereHours = 1000;
    private const double UsualAmpereHours = 60;

    /// <summary>Refuses the log at the first row of the first such stretch.</summary>
    /// <param name="log">The log.</param>
    /// <param name="current">The current, its sign and unit settled.</param>
    /// <param name="rows">Its rows.</param>
    /// <param name="told">What they say.</param>
    internal static void Check(FlowLog log, ColumnRole current, FlowRows rows, FlowDirection told)
    {
        double cells = log.CellsInVoltage;
        int sign = current.Negated ? -1 : 1;
        double ohms = told.IsTrendSure ? told.TrendOhms : told.StepOhms;
        double seconds = log.SecondsOfAxis;
        bool isUnsigned = !current.HasProvedSign && !(rows.Rows.Any(row => row.Amps > rows.LeastFlow) && rows.Rows.Any(row => row.Amps < -rows.LeastFlow));
        if (isUnsigned && SetsInAgainst(rows, sign) is int against)
        {
            Refuse(log, current, against, charges: current.Negated == rows.Rows.Any(row => row.Amps < -rows.LeastFlow));
            return;
        }

        (int Row, double AmpereHours) largest = (0, 0);
        for (int from = 0, to; from < rows.Rows.Count; from = to)
        {
            to = EndOf(rows, from);
            if (to - from < FewestRows || !rows.Flows(rows.Rows[from]))
            {
                continue;
            }

            var stretch = new Stretch(rows, from, to, sign, ohms);
            double most = stretch.IsSteady ? isUnsigned && stretch.IsOneWay ? MostAdverseUnsigned : MostAdverseAlone : MostAdverse;
            if (stretch.Adverse / cells > Math.Max(most, (8 * rows.Noise) + (3 * rows.Digit)) && stretch.Adverse > 2 * stretch.Along && AllCellsAgree(log, current, rows.Rows[from], rows.Rows[to - 1], sign, ohms))
            {
                Refuse(log, current, rows.Rows[from].Number, charges: rows.Rows[from].Amps * sign > 0);
                return;
            }

            double ampereHours = Math.Abs(stretch.Flowed) * current.Factor * seconds / 3600;
            bool isTooLittle = stretch.Along / cells > FarVolts && ampereHours < LeastAmpereHours;
            if (ampereHours > MostAmpereHours || isTooLittle)
            {
                log.Columns.Refuse(
                    "unit-unclear", rows.Rows[from].Number, current, FormattableString.Invariant($"{(isTooLittle ? ampereHours * 1000 : ampereHours):0.##} {(isTooLittle ? "mAh" : "Ah")} while a cell's voltage goes {stretch.Along / cells:0.##} V: the unit of the current, or that of the time, is another"),
                    "correct the units in the header, or state them with a reading guide");
                return;
            }

            largest = ampereHours > largest.AmpereHours ? (rows.Rows[from].Number, ampereHours) : largest;
        }

        if (largest.AmpereHours > UsualAmpereHours)
        {
            log.Columns.Notice(
                "large-charge", largest.Row, current, FormattableString.Invariant($"{largest.AmpereHours:0} Ah in one go from here on: more than packs of vehicles hold"),
                "check the units of the current and of the time, and whether a decimal mark was lost; they were kept as logged");
        }
    }

    private static void Refuse(FlowLog log, ColumnRole current, int row, bool charges) => log.Columns.Refuse(
        "direction-unclear", row, current, $"a current that {(charges ? "fills" : "empties")} the cells by its sign while their voltage {(charges ? "falls" : "rises")}: it was damaged from here on, or elsewhere, or has no sign",
        "correct the current, or log it with its sign");

    // One cell that fails under way moves the middle of two.
    private static bool AllCellsAgree(FlowLog log, ColumnRole current, FlowRow first, FlowRow last, int sign, double ohms) => log.Voltages.Count == 1 || log.RowsOfEach(current).All(rows =>
    {
        int from = rows.Rows.TakeWhile(row => row.Session != first.Session || row.Number < first.Number).Count();
        int to = from + rows.Rows.Skip(from).TakeWhile(row => row.Session == first.Session && row.Number <= last.Number).Count();
        return to - from < FewestRows || new Stretch(rows, from, to, sign, ohms) is { } alone && alone.Adverse > 2 * alone.Along;
    });

    // Of a current that has one sign throughout: the first row of a session in which it sets in by large steps, to all of which
    // the cells answer as under the other direction. Where it ends, in a slow log, the cells have gone on meanwhile.
    private static int? SetsInAgainst(FlowRows rows, int sign)
    {
        for (int from = 0; from < rows.Rows.Count;)
        {
            int to = from + 1;
            while (to < rows.Rows.Count && rows.Rows[to].Session == rows.Rows[from].Session)
            {
                to++;
            }

            double largest = rows.Rows.Skip(from).Take(to - from).Where(rows.Flows).Max(row => (double?)Math.Abs(row.Amps)) ?? 0;
            int[] steps = [.. Enumerable.Range(from + 1, to - from - 1).Where(i => rows.Follows(i) && rows.Flows(rows.Rows[i]) && Math.Abs(rows.Rows[i].Amps) > Math.Abs(rows.Rows[i - 1].Amps) && Math.Abs(rows.AmpsSince(i)) > Math.Max(LargeStep * largest, 0.1 * rows.Largest)
                && !(Math.Abs(rows.VoltsSince(i)) < SureStep * rows.LeastSeen) && !rows.IsSpike(i))];
            if (steps.Length > 0 && steps.All(i => rows.VoltsSince(i) * rows.AmpsSince(i) * sign < 0))
            {
                return rows.Rows[from].Number;
            }

            from = to;
        }

        return null;
    }

    // Rows of one session in which the current flows the same way.
    private static int EndOf(FlowRows rows, int from)
    {
        int to = from + 1;
        while (to < rows.Rows.Count && rows.Follows(to) && rows.Flows(rows.Rows[to]) && Math.Sign(rows.Rows[to].Amps) == Math.Sign(rows.Rows[from].Amps))
        {
            to++;
        }

        return to;
    }

    /// <summary>What the voltage does in some rows, less what the resistance makes of the current's change.</summary>
    private readonly struct Stretch
    {
        private readonly int _rows;

        internal Stretch(FlowRows rows, int from, int to, int sign, double ohms)
        {
            _rows = to - from;
            int way = Math.Sign(rows.Rows[from].Amps) * sign;
            double[] sizes = [.. Enumerable.Range(from, to - from).Select(i => Math.Abs(rows.Rows[i].Amps))];
            IsSteady = sizes.Max() <= Steady * Selection.At(sizes, sizes.Length / 2);
            double before = At(from);
            double now = from + 1 < to ? At(from + 1) : double.NaN;
            double highest = double.NegativeInfinity;
            double lowest = double.PositiveInfinity;
            for (int i = from + 1; i < to - 1; i++)
            {
                // Of three, the middle one: no single value is to decide.
                double after = At(i + 1);
                double volts = RowMath.Middle(before, now, after) * way;
                (before, now) = (now, after);
                if (!double.IsFinite(volts))
                {
                    continue;
                }

                (highest, lowest) = (Math.Max(highest, volts), Math.Min(lowest, volts));
                (Adverse, Along) = (Math.Max(Adverse, highest - volts), Math.Max(Along, volts - lowest));
            }

            for (int i = from + 1; i < to; i++)
            {
                Flowed += (rows.Rows[i].Amps + rows.Rows[i - 1].Amps) / 2 * (rows.Rows[i].Seconds - rows.Rows[i - 1].Seconds);
            }

            double At(int i) => rows.Rows[i].Volts - (ohms * sign * rows.Rows[i].Amps);
        }

        /// <summary>Whether the current stays nearly the same.</summary>
        internal bool IsSteady { get; }

        /// <summary>Whether the voltage hardly ever goes along with the current, in rows enough.</summary>
        internal bool IsOneWay => _rows >= RowsOfOneWay && Adverse > OneWay * Along;

        /// <summary>How far it goes against the current at most, in volts.</summary>
        internal double Adverse { get; }

        /// <summary>How far it goes along with it at most, in volts.</summary>
        internal double Along { get; }

        /// <summary>The integral of the current over time, in the units logged.</summary>
        internal double Flowed { get; }
    }
}
