namespace PackCare.Import.Meanings;

/// <summary>
/// What cells and modes say about the sign of a current, each kind of evidence by itself and none of it to be upset by one damaged row. Signs
/// are those of the current as it was logged: 1 where a positive one charges, -1 where it discharges, 0 where that is not told.
/// </summary>
internal sealed class FlowDirection
{
    private const int LeastRows = 5;

    // Volts.
    private const double LeastSwing = 0.02;

    // Of the largest current, and how many rows of one kind for one of the other.
    private const double LeastChange = 0.05;
    private const int FewestAnswers = 6;
    private const int ForOneAgainst = 5;
    private const int MostSessions = 200;

    // A part of the current.
    private const double MostSlide = 0.25;

    // Of the current at first. One that is held goes up again by hardly anything.
    private const double MostBack = 0.15;

    // Volts. No cell is charged to less and held there, but for kinds whose course tells as well.
    private const double LeastHold = 3.95;

    // Volts. The noise of instruments is measured besides.
    private const double LeastCourse = 0.01;

    private readonly FlowRows _log;

    private FlowDirection(FlowRows log) => _log = log;

    /// <summary>How the cells answer to sudden steps of the current.</summary>
    internal int Steps { get; private set; }

    /// <summary>Whether so many steps say so that one damaged row cannot be the reason.</summary>
    internal bool StepsAreSure { get; private set; }

    /// <summary>Whether some steps say one thing and others the other: the current has no sign.</summary>
    internal bool StepsDisagree { get; private set; }

    /// <summary>Whether even steps of a third of the current and more do so. Small ones flicker with the digits of a coarse meter.</summary>
    internal bool LargeStepsDisagree { get; private set; }

    /// <summary>What those large steps alone say; 0 where there are none.</summary>
    internal int LargeSteps { get; private set; }

    /// <summary>Whether three of them and more say so, and none says otherwise.</summary>
    internal bool LargeStepsAreSure { get; private set; }

    /// <summary>What most changes of the current from row to row say, sudden or not, where one in six at most says otherwise and no few rows decide; else 0.</summary>
    internal int Answers { get; private set; }

    /// <summary>Where the cells go while the current flows steadily, less what their resistance makes of its slow change.</summary>
    internal int Course { get; private set; }

    /// <summary>Whether they go further than noise and digits can take them.</summary>
    internal bool CourseIsSure { get; private set; }

    /// <summary>Volts for one of the current's unit, without sign, where <see cref="IsTrendSure"/>; else 0.</summary>
    internal double TrendOhms { get; private set; }

    /// <summary>The same of the steps; 0 where there are none.</summary>
    internal double StepOhms { get; private set; }

    /// <summary>Whether current and charge together explain where the cells go, under one sign throughout.</summary>
    internal bool IsTrendSure { get; private set; }

    /// <summary>Whether they go on the same way while no current flows: something else drains them.</summary>
    internal bool GoesOnAtRest { get; private set; }

    /// <summary>Whether they rise and fall again while the current stays.</summary>
    internal bool Swings { get; private set; }

    /// <summary>How far the cells rise in all stretches in which they rise, in volts.</summary>
    internal double Rise { get; private set; }

    /// <summary>How far they fall in all stretches in which they fall, in volts.</summary>
    internal double Fall { get; private set; }

    /// <summary>The sign of a current that falls off while the cells are held at their highest voltage: only a charge at constant voltage does that.</summary>
    internal int Hold { get; private set; }

    /// <summary>What the words of a mode column say.</summary>
    internal int Modes { get; private set; }

    /// <summary>The row from which on the current has lost its sign, or got one; null where none is known.</summary>
    internal int? LostSign { get; set; }

    /// <summary>Looks at a log.</summary>
    /// <param name="rows">Its rows.</param>
    internal static FlowDirection Of(FlowRows rows)
    {
        var found = new FlowDirection(rows);
        found.FromModes();
        if (rows.Rows.Count >= 2 && rows.Digit > 0)
        {
            double ohms = found.FromSteps();
            found.FromChanges();
            found.StepOhms = Math.Abs(ohms);
            FlowTrend trend = FlowTrend.Of(rows);
            found.FromCourse(ohms != 0 ? ohms : trend.Ohms, isSure: found.StepsAreSure || trend.Direction != 0);
            if (trend.Direction != 0 && !found.GoesOnAtRest)
            {
                // What the charge has done meanwhile is more than what a small step does.
                if (found.Steps == -trend.Direction && found.LargeSteps != found.Steps)
                {
                    (found.Steps, found.StepsAreSure) = (0, false);
                }

                (found.Course, found.CourseIsSure, found.IsTrendSure, found.TrendOhms) = (trend.Direction, true, true, Math.Abs(trend.Ohms));
            }

            found.FromHold();

            // A load that falls off holds the cells as well, but they gave way to it when it set in.
            found.Hold = (found.IsTrendSure && found.Hold == -found.Course) || found.Hold == -found.Steps || found.Hold == -found.Answers ? 0 : found.Hold;
        }

        return found;
    }

    private void FromModes()
    {
        List<FlowRow> told = [.. _log.Rows.Where(row => row.Direction != 0 && Math.Abs(row.Amps) > _log.LeastFlow)];
        int with = told.Count(row => Math.Sign(row.Amps) == row.Direction);
        int against = told.Count - with;

        // In the row of a change the mode may be that of before.
        Modes = with >= 2 && with >= 9 * against ? 1 : against >= 2 && against >= 9 * with ? -1 : 0;
    }

    // Volts for an ampere, of the steps that say what most do; 0 where none do.
    private double FromSteps()
    {
        var answers = new List<double>();
        int rising = 0;
        int falling = 0;
        int largeRising = 0;
        int largeFalling = 0;
        for (int i = 1; i < _log.Rows.Count; i++)
        {
            double volts = _log.VoltsSince(i);
            if (!_log.Follows(i) || !_log.Steps(i) || !(Math.Abs(volts) >= _log.LeastSeen) || _log.IsSpike(i) || _log.IsCourse(i))
            {
                continue;
            }

            double amps = _log.AmpsSince(i);
            answers.Add(volts / amps);
            (rising, falling) = volts > 0 == amps > 0 ? (rising + 1, falling) : (rising, falling + 1);
            if (Math.Abs(amps) > _log.Largest / 3)
            {
                (largeRising, largeFalling) = volts > 0 == amps > 0 ? (largeRising + 1, largeFalling) : (largeRising, largeFalling + 1);
            }
        }

        Steps = rising > 3 * falling ? 1 : falling > 3 * rising ? -1 : 0;
        StepsAreSure = Steps != 0 && Math.Max(rising, falling) >= 3;
        LargeSteps = Math.Sign(largeRising - largeFalling);
        LargeStepsAreSure = Math.Max(largeRising, largeFalling) >= 3 && Math.Min(largeRising, largeFalling) == 0;
        LargeStepsDisagree = Math.Min(largeRising, largeFalling) >= 1;
        StepsDisagree = Steps == 0 && Math.Min(rising, falling) >= 2;
        double[] alike = [.. answers.Where(answer => Math.Sign(answer) == Steps)];
        return Steps == 0 ? 0 : Selection.At(alike, alike.Length / 2);
    }

    private void FromChanges()
    {
        // Packs of one log may be of any size, and what is noise beside one of them is a load to another.
        (int Along, int Against)[] counts = _log.HasSessions ? [.. _log.Sessions(MostSessions).Select(CountChanges)] : [CountChanges(_log)];
        int along = counts.Sum(count => count.Along);
        int against = counts.Sum(count => count.Against);
        Answers = along >= FewestAnswers && along >= ForOneAgainst * against ? 1 : against >= FewestAnswers && against >= ForOneAgainst * along ? -1 : 0;
    }

    private static (int Along, int Against) CountChanges(FlowRows log)
    {
        double least = Math.Max(LeastChange * log.Largest, 2.01 * log.DigitOfCurrent);
        int along = 0;
        int against = 0;
        for (int i = 1; i < log.Rows.Count; i++)
        {
            double amps = log.AmpsSince(i);
            double volts = log.VoltsSince(i);
            if (Math.Abs(amps) >= least && Math.Abs(volts) >= log.LeastSeen && log.Follows(i) && !log.IsSpike(i) && !log.IsCourse(i))
            {
                (along, against) = amps * volts > 0 ? (along + 1, against) : (along, against + 1);
            }
        }

        return (along, against);
    }

    private void FromCourse(double ohms, bool isSure)
    {
        double total = 0;
        (double volts, double seconds) flowing = (0, 0);
        (double volts, double seconds) resting = (0, 0);
        for (int from = 0; from < _log.Rows.Count;)
        {
            int to = from + 1;
            while (to < _log.Rows.Count && _log.Flows(_log.Rows[from]) && GoesOn(_log.Rows[to - 1], _log.Rows[to]))
            {
                to++;
            }

            if (to - from >= 3)
            {
                (double volts, double amps) before = Level(from, to, fromEnd: false);
                (double volts, double amps) after = Level(from, to, fromEnd: true);
                double own = (after.volts - before.volts - (ohms * (after.amps - before.amps))) * Math.Sign(_log.Rows[from].Amps);

                // Where the load falls off the cells recover, and where a charge does they sink: that is no course, unless the resistance is known.
                bool slides = !isSure && Math.Abs(after.amps - before.amps) > MostSlide * Math.Max(Math.Abs(after.amps), Math.Abs(before.amps));
                (double up, double down) = SwingsOf(from, to, ohms);
                if (Math.Min(up, down) > Math.Max(LeastSwing, 8 * _log.Noise) && !slides)
                {
                    // Under a current that stays they went up, and down again: it did not stay, but for its missing sign.
                    (Rise, Fall, Swings) = (Rise + up, Fall + down, true);
                }
                else if (double.IsFinite(own))
                {
                    flowing = (flowing.volts + after.volts - before.volts, flowing.seconds + _log.Rows[to - 1].Seconds - _log.Rows[from].Seconds);
                    total += slides ? 0 : own;
                    (Rise, Fall) = (Rise + Math.Max(own, 0), Fall + Math.Max(-own, 0));
                }
            }

            // What two rows at rest in a row do is not the current's doing.
            if (to == from + 1 && to < _log.Rows.Count && _log.Follows(to) && !_log.Flows(_log.Rows[from]) && !_log.Flows(_log.Rows[to]) && double.IsFinite(_log.VoltsSince(to)))
            {
                resting = (resting.volts + _log.VoltsSince(to), resting.seconds + _log.Rows[to].Seconds - _log.Rows[from].Seconds);
            }

            from = to;
        }

        GoesOnAtRest = resting.seconds > 0 && flowing.seconds > 0 && Math.Abs(resting.volts) > LeastCourse && resting.volts / resting.seconds / (flowing.volts / flowing.seconds) > 0.5;
        Course = Math.Abs(total) >= 0.0015 + (_log.Digit / 2) ? Math.Sign(total) : 0;
        CourseIsSure = !GoesOnAtRest && Math.Abs(total) >= Math.Max(LeastCourse, (5 * _log.Noise) + (2 * _log.Digit)) && Math.Abs(total) > 0.5 * (Rise + Fall);
    }

    private bool GoesOn(FlowRow before, FlowRow now) => now.Session == before.Session && _log.Flows(now)
        && Math.Sign(now.Amps) == Math.Sign(before.Amps) && Math.Abs(now.Amps - before.Amps) <= Math.Max(0.1 * _log.Largest, 1.01 * _log.DigitOfCurrent);

    // How far the voltage goes up from where it was lowest before, and down from where it was highest, what the current's change makes of it taken off.
    private (double Up, double Down) SwingsOf(int from, int to, double ohms)
    {
        (double lowest, double highest, double up, double down) = (double.PositiveInfinity, double.NegativeInfinity, 0, 0);
        for (int i = from; i < to; i++)
        {
            double volts = _log.Rows[i].Volts - (ohms * _log.Rows[i].Amps);
            if (double.IsFinite(volts))
            {
                (lowest, highest) = (Math.Min(lowest, volts), Math.Max(highest, volts));
                (up, down) = (Math.Max(up, volts - lowest), Math.Max(down, highest - volts));
            }
        }

        return (up, down);
    }

    // The middle of three rows at one end of a stretch, where it has as many at either end.
    private (double Volts, double Amps) Level(int from, int to, bool fromEnd)
    {
        if (to - from < 6)
        {
            FlowRow end = _log.Rows[fromEnd ? to - 1 : from];
            return (end.Volts, end.Amps);
        }

        int first = fromEnd ? to - 3 : from;
        return (RowMath.Middle(_log.Rows[first].Volts, _log.Rows[first + 1].Volts, _log.Rows[first + 2].Volts), RowMath.Middle(_log.Rows[first].Amps, _log.Rows[first + 1].Amps, _log.Rows[first + 2].Amps));
    }

    private void FromHold()
    {
        using var buffer = new RowBuffer(_log.Rows.Count);
        int flowing = 0;
        foreach (FlowRow row in _log.Rows)
        {
            if (_log.Flows(row) && double.IsFinite(row.Volts))
            {
                buffer.Values[flowing++] = row.Volts;
            }
        }

        if (flowing < LeastRows)
        {
            return;
        }

        // Under a smaller load the cells go up; held, they stay where they were when the current was at its largest.
        double top = Selection.At(buffer.Values.AsSpan(0, flowing), flowing - 1 - (flowing / 50));
        if (top / Math.Max(1, Math.Ceiling(top / VoltageFinder.HighestCell)) < LeastHold)
        {
            return;
        }

        double near = 0.003 + _log.Digit + (3 * _log.Noise);
        List<FlowRow> held = [.. _log.Rows.Where(row => _log.Flows(row) && row.Volts >= top - near)];
        int third = held.Count / 3;
        if (held.Count < LeastRows || third == 0 || held.Select(row => Math.Sign(row.Amps)).Distinct().Count() != 1)
        {
            return;
        }

        double first = Selection.At([.. held.Take(third).Select(row => Math.Abs(row.Amps))], third / 2);
        double last = Selection.At([.. held.TakeLast(third).Select(row => Math.Abs(row.Amps))], third / 2);
        int down = Enumerable.Range(1, held.Count - 1).Count(i => Math.Abs(held[i].Amps) < Math.Abs(held[i - 1].Amps));
        int up = Enumerable.Range(1, held.Count - 1).Count(i => Math.Abs(held[i].Amps) > Math.Abs(held[i - 1].Amps));
        // Cells that lay higher at rest are under a load.
        if (_log.Rows.Any(row => !_log.Flows(row) && row.Session == held[0].Session && row.Number < held[0].Number && row.Volts > top + near))
        {
            return;
        }

        double back = Enumerable.Range(1, held.Count - 1).Max(i => Math.Abs(held[i].Amps) - Math.Abs(held[i - 1].Amps));
        if (first >= 0.3 * _log.Largest && last < 0.7 * first && down >= 3 && down > 3 * up && back <= MostBack * first)
        {
            Hold = Math.Sign(held[0].Amps);
        }
    }
}
