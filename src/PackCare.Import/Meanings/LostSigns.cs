namespace PackCare.Import.Meanings;

/// <summary>
/// Looks for the row from which on a current has lost its sign, or got one: where charging turns into discharging the cells step by what their
/// resistance makes of both currents together, and go the other way from there on.
/// </summary>
internal static class LostSigns
{
    // Rows of one sign on either side: what is logged a row late, and single damaged rows, are no loss.
    private const int Beside = 3;
    private const int MostBeside = 10;
    private const double LeastVolts = 0.006;
    private const int FewestSteps = 6;

    /// <summary>The first row in which the current's sign changes and the cells go on as before; null where there is none.</summary>
    /// <param name="rows">Rows with the current as it is written.</param>
    internal static int? Find(FlowRows rows)
    {
        (double Ohms, bool IsSure)? known = null;
        for (int i = Beside; i + Beside <= rows.Rows.Count; i++)
        {
            if (!(rows.Rows[i - 1].Amps * rows.Rows[i].Amps < 0) || !IsOneRun(rows, i - Beside, i) || !IsOneRun(rows, i, i + Beside) || !GoesOn(rows, i - Beside, i + Beside))
            {
                continue;
            }

            (double ohms, bool isSure) = known ??= OhmsUnderOneSign(rows);
            if (ohms > 0 ? StaysUnder(rows, i, ohms, isSure) : KeepsItsCourse(rows, i))
            {
                return rows.Rows[i].Number;
            }
        }

        return null;
    }

    // From steps between currents of one sign, or from none: no lost sign is in them. 0 where there are none.
    private static (double Ohms, bool IsSure) OhmsUnderOneSign(FlowRows rows)
    {
        double[] found = [.. Enumerable.Range(1, Math.Max(0, rows.Rows.Count - 1))
            .Where(i => rows.Follows(i) && rows.Rows[i - 1].Amps * rows.Rows[i].Amps >= 0 && rows.Steps(i) && !rows.IsSpike(i) && !rows.IsCourse(i) && Math.Abs(rows.VoltsSince(i)) >= rows.LeastSeen)
            .Select(i => Math.Abs(rows.VoltsSince(i) / rows.AmpsSince(i)))];
        if (found.Length == 0)
        {
            return (0, false);
        }

        Array.Sort(found);
        return (found[found.Length / 2], found.Length >= FewestSteps && found[found.Length * 3 / 4] < 1.6 * found[found.Length / 4]);
    }

    // Of one sign, and flowing.
    private static bool IsOneRun(FlowRows rows, int from, int to)
    {
        for (int i = from; i < to; i++)
        {
            if (!rows.Flows(rows.Rows[i]) || rows.Rows[i].Amps * rows.Rows[from].Amps < 0 || !double.IsFinite(rows.Rows[i].Volts))
            {
                return false;
            }
        }

        return true;
    }

    // Row after row, without a pause.
    private static bool GoesOn(FlowRows rows, int from, int to)
    {
        double usual = rows.Rows[from + 1].Seconds - rows.Rows[from].Seconds;
        for (int i = from + 1; i < to; i++)
        {
            double step = rows.Rows[i].Seconds - rows.Rows[i - 1].Seconds;
            if (rows.Rows[i].Session != rows.Rows[i - 1].Session || rows.Rows[i].Place != rows.Rows[i - 1].Place + 1 || !(step > 0) || step > 3 * usual || usual > 3 * step)
            {
                return false;
            }
        }

        return true;
    }

    // The step is that of two currents of one sign, from row to row and over the rows beside.
    private static bool StaysUnder(FlowRows rows, int i, double ohms, bool isSure)
    {
        double course = CourseBeside(rows, i);
        return Stays(i - 1, i, 1) && Stays(i - 2, i + 1, 3);

        bool Stays(int before, int after, int steps)
        {
            (double one, double other) = (Math.Abs(rows.Rows[before].Amps), Math.Abs(rows.Rows[after].Amps));
            double least = Math.Min(one, other);
            double step = Math.Abs(rows.Rows[after].Volts - rows.Rows[before].Volts - (steps * course));
            return 2 * ohms * least >= Math.Max(Math.Max(LeastVolts, 3 * rows.Digit), (6 * rows.Noise) + (steps * Math.Abs(course)))
                && step <= ohms * ((Math.Max(one, other) - least) + (0.5 * least)) && (steps > 1 || step <= (isSure ? 0.6 : 0.35) * ohms * (one + other));
        }
    }

    // Volts a row, where the current stays; the slower of both sides.
    private static double CourseBeside(FlowRows rows, int i)
    {
        double[] steps = [.. Enumerable.Range(i - Beside + 1, (2 * Beside) - 1).Where(at => at != i && Math.Abs(rows.AmpsSince(at)) <= rows.LeastStep).Select(rows.VoltsSince)];
        return steps.Length == 0 ? 0 : Selection.At(steps, steps.Length / 2);
    }

    // Nothing tells the resistance, but the same current turned round would turn the cells round as well.
    private static bool KeepsItsCourse(FlowRows rows, int i)
    {
        int from = i - 1;
        while (from > 0 && i - from < MostBeside && IsOneRun(rows, from - 1, i) && GoesOn(rows, from - 1, i))
        {
            from--;
        }

        int to = i + 1;
        while (to < rows.Rows.Count && to - i < MostBeside && IsOneRun(rows, i, to + 1) && GoesOn(rows, i, to + 1))
        {
            to++;
        }

        (FlowRow a, FlowRow b, FlowRow c, FlowRow d) = (rows.Rows[from], rows.Rows[i - 1], rows.Rows[i], rows.Rows[to - 1]);
        double before = b.Volts - a.Volts;
        double after = d.Volts - c.Volts;
        double least = Math.Max(LeastVolts, Math.Max(4 * rows.Digit, 6 * rows.Noise));
        double perSecond = Math.Max(Math.Abs(before / (b.Seconds - a.Seconds)), Math.Abs(after / (d.Seconds - c.Seconds)));
        bool isMirrored = Math.Abs(Math.Abs(b.Amps) - Math.Abs(c.Amps)) <= 0.1 * Math.Abs(c.Amps);
        return isMirrored && before * after > 0 && Math.Min(Math.Abs(before), Math.Abs(after)) >= least
            && Math.Abs(c.Volts - b.Volts) <= (1.5 * perSecond * (c.Seconds - b.Seconds)) + rows.Digit + (2 * rows.Noise);
    }
}
