using PackCare.Import.Sessions;

namespace PackCare.Import.Meanings;

/// <summary>
/// What cells and modes say about the sign of a current, each kind of evidence by itself and none of it to be upset by one damaged row. Signs
/// are those of the current as it was logged: 1 where a positive one charges, -1 where it discharges, 0 where that is not told.
/// </summary>
internal sealed class FlowDirection
{
    private const int MostBlocks = 4;
    private const int MostRows = Core.Samples.Channel.BlockRows;
    private const int LeastRows = 5;

    // Volts. The noise of instruments is measured besides.
    private const double LeastAnswer = 0.002;
    private const double LeastCourse = 0.01;

    private readonly List<Row> _rows = [];
    private readonly double _digit;
    private readonly double _digitOfCurrent;
    private double _noise;
    private double _largest;

    private FlowDirection(double digit, double digitOfCurrent) => (_digit, _digitOfCurrent) = (digit, digitOfCurrent);

    /// <summary>How the cells answer to sudden steps of the current.</summary>
    internal int Steps { get; private set; }

    /// <summary>Whether so many steps say so that one damaged row cannot be the reason.</summary>
    internal bool StepsAreSure { get; private set; }

    /// <summary>Whether some steps say one thing and others the other: the current has no sign.</summary>
    internal bool StepsDisagree { get; private set; }

    /// <summary>Where the cells go while the current flows steadily, less what their resistance makes of its slow change.</summary>
    internal int Course { get; private set; }

    /// <summary>Whether they go further than noise and digits can take them.</summary>
    internal bool CourseIsSure { get; private set; }

    /// <summary>How far the cells rise in all stretches in which they rise, in volts.</summary>
    internal double Rise { get; private set; }

    /// <summary>How far they fall in all stretches in which they fall, in volts.</summary>
    internal double Fall { get; private set; }

    /// <summary>The sign of a current that falls off while the cells are held at their highest voltage: only a charge at constant voltage does that.</summary>
    internal int Hold { get; private set; }

    /// <summary>What the words of a mode column say.</summary>
    internal int Modes { get; private set; }

    /// <summary>Looks at a log; of a long one at the first rows of some of its blocks.</summary>
    /// <param name="map">Sessions.</param>
    /// <param name="voltages">Cells, or the pack voltage alone.</param>
    /// <param name="current">The current.</param>
    /// <param name="mode">The modes, or null.</param>
    internal static FlowDirection Of(SessionMap map, IReadOnlyList<ColumnRole> voltages, ColumnRole current, ColumnRole? mode)
    {
        var found = new FlowDirection(voltages.Count == 0 ? 0 : voltages.Max(role => role.Factor * Math.Pow(10, -role.Column.MaxDecimals)), Math.Pow(10, -current.Column.MaxDecimals));
        found.Read(map, Comparable(voltages), current, mode);
        if (found._rows.Count >= 2 && voltages.Count > 0)
        {
            found._largest = found.LargestButFew();
            found._noise = found.Noise();
            double ohms = found.FromSteps();
            found.FromCourse(ohms);
            found.FromHold();
        }

        return found;
    }

    // From row to row the same cells are compared: one that has no reading now and then would move the middle of the others.
    private static List<ColumnRole> Comparable(IReadOnlyList<ColumnRole> voltages)
    {
        List<ColumnRole> whole = [.. voltages.Where(role => role.Profile is { Missing: 0 })];
        return whole.Count > 0 || voltages.Count == 0 ? whole : [voltages.MinBy(role => role.Profile!.Missing)!];
    }

    private readonly record struct Row(int Session, int Number, double Volts, double Amps);

    private double LeastFlow => 0.02 * _largest;

    private double LeastSeen => Math.Max(LeastAnswer, (4 * _noise) + _digit);

    private void Read(SessionMap map, List<ColumnRole> voltages, ColumnRole current, ColumnRole? mode)
    {
        int blocks = current.Values.Count;
        int taken = Math.Min(MostBlocks, blocks);
        int?[] directions = mode is null ? [] : [.. mode.Column.Words.Select(ModeWords.DirectionOf)];
        double least = 0.02 * current.Profile!.LargestMagnitude;
        int with = 0;
        int against = 0;
        int segment = 0;
        double[] cells = new double[voltages.Count];
        _rows.Capacity = Math.Min(MostRows, current.Values.Sum(block => block.Count));
        for (int k = 0; k < taken; k++)
        {
            int block = k * blocks / taken;
            int start = current.Values.Take(block).Sum(before => before.Count);
            int count = Math.Min(current.Values[block].Count, MostRows / taken);
            double[] amps = LogColumns.Values(current, block, 1, count);
            double[][] volts = [.. voltages.Select(role => LogColumns.Values(role, block, role.Factor, count))];
            double[] words = mode is null ? [] : LogColumns.Values(mode, block, 1, count);
            for (int i = 0; i < count; i++)
            {
                while (start + i >= map.Segments[segment].End)
                {
                    segment++;
                }

                if (double.IsNaN(amps[i]))
                {
                    continue;
                }

                double middle = RowMath.MedianOf(volts, i, cells);
                if (double.IsFinite(middle))
                {
                    _rows.Add(new Row(map.Segments[segment].Session, start + i, middle, amps[i]));
                }

                if (mode is not null && !double.IsNaN(words[i]) && directions[(int)words[i]] is 1 or -1 && Math.Abs(amps[i]) > least)
                {
                    bool agrees = Math.Sign(amps[i]) == directions[(int)words[i]];
                    with += agrees ? 1 : 0;
                    against += agrees ? 0 : 1;
                }
            }
        }

        // In the row of a change the mode may be that of before.
        Modes = with >= 2 && with >= 9 * against ? 1 : against >= 2 && against >= 9 * with ? -1 : 0;
        for (int i = 1; i < _rows.Count; i++)
        {
            if (_rows[i].Session < _rows[i - 1].Session)
            {
                // Packs in turn: each has its own course. Rows of one session keep their order.
                List<Row> sorted = [.. _rows.OrderBy(row => row.Session)];
                _rows.Clear();
                _rows.AddRange(sorted);
                break;
            }
        }
    }

    // Without the few rows, if any, that are beyond three times all others.
    private double LargestButFew()
    {
        using var buffer = new RowBuffer(_rows.Count);
        Span<double> sizes = buffer.Values.AsSpan(0, _rows.Count);
        double most = 0;
        for (int i = 0; i < sizes.Length; i++)
        {
            sizes[i] = Math.Abs(_rows[i].Amps);
            most = Math.Max(most, sizes[i]);
        }

        double usual = Selection.At(sizes, Math.Max(0, sizes.Length - 3));
        return usual > 0 && most > 3 * usual ? usual : most;
    }

    // Standard deviation of one reading, from how three in a row bend while the current stays.
    private double Noise()
    {
        using var buffer = new RowBuffer(_rows.Count);
        int bends = 0;
        for (int i = 2; i < _rows.Count; i++)
        {
            (Row a, Row b, Row c) = (_rows[i - 2], _rows[i - 1], _rows[i]);
            double bend = a.Volts - (2 * b.Volts) + c.Volts;
            if (a.Session == c.Session && Math.Abs(a.Amps - b.Amps) + Math.Abs(c.Amps - b.Amps) <= 0.02 * _largest && double.IsFinite(bend))
            {
                buffer.Values[bends++] = Math.Abs(bend);
            }
        }

        const double NormalMedian = 0.6745;
        return bends < 3 ? 0 : Selection.At(buffer.Values.AsSpan(0, bends), bends / 2) / (NormalMedian * Math.Sqrt(6));
    }

    // Volts for an ampere, of the steps that say what most do; 0 where none do.
    private double FromSteps()
    {
        // Flicker of the last digit is no step, unless there are hardly more digits.
        double digit = 1.01 * _digitOfCurrent;
        double least = Math.Max(0.1 * _largest, _largest > 3 * digit ? digit : 0);
        var answers = new List<double>();
        int rising = 0;
        int falling = 0;
        for (int i = 1; i < _rows.Count; i++)
        {
            if (_rows[i].Session != _rows[i - 1].Session || _rows[i].Number > _rows[i - 1].Number + 1)
            {
                continue;
            }

            double amps = _rows[i].Amps - _rows[i - 1].Amps;
            double volts = _rows[i].Volts - _rows[i - 1].Volts;
            if (Math.Abs(amps) <= least || !(Math.Abs(volts) >= LeastSeen) || IsRamp(i, amps) || IsSpike(i, volts))
            {
                continue;
            }

            answers.Add(volts / amps);
            (rising, falling) = volts > 0 == amps > 0 ? (rising + 1, falling) : (rising, falling + 1);
        }

        Steps = rising > 3 * falling ? 1 : falling > 3 * rising ? -1 : 0;
        StepsAreSure = Steps != 0 && Math.Max(rising, falling) >= 3;
        StepsDisagree = Steps == 0 && Math.Min(rising, falling) >= 2;
        double[] alike = [.. answers.Where(answer => Math.Sign(answer) == Steps)];
        return Steps == 0 ? 0 : Selection.At(alike, alike.Length / 2);
    }

    // One change of several in the same direction: the current slides, as it does at constant voltage, and the cells fill or empty meanwhile.
    private bool IsRamp(int i, double amps)
    {
        return Slides(i - 1) || Slides(i + 1);

        bool Slides(int at) => at >= 1 && at < _rows.Count && _rows[at].Session == _rows[at - 1].Session
            && (_rows[at].Amps - _rows[at - 1].Amps) * Math.Sign(amps) > 0.1 * Math.Abs(amps);
    }

    // No cell steps by half a volt and lives, and none comes right back while the current does not.
    private bool IsSpike(int i, double volts) => Math.Abs(volts) > 0.5
        || (i + 1 < _rows.Count && _rows[i + 1].Session == _rows[i].Session && Math.Abs(_rows[i + 1].Amps - _rows[i].Amps) < 0.02 * _largest
            && Math.Abs(_rows[i + 1].Volts - _rows[i - 1].Volts) < 0.2 * Math.Abs(volts));

    private void FromCourse(double ohms)
    {
        double total = 0;
        for (int from = 0; from < _rows.Count;)
        {
            int to = from + 1;
            while (to < _rows.Count && Flows(_rows[from]) && GoesOn(_rows[to - 1], _rows[to]))
            {
                to++;
            }

            if (to - from >= 3)
            {
                (double volts, double amps) before = Level(from, to, fromEnd: false);
                (double volts, double amps) after = Level(from, to, fromEnd: true);
                double own = (after.volts - before.volts - (ohms * (after.amps - before.amps))) * Math.Sign(_rows[from].Amps);
                if (double.IsFinite(own))
                {
                    total += own;
                    (Rise, Fall) = (Rise + Math.Max(own, 0), Fall + Math.Max(-own, 0));
                }
            }

            from = to;
        }

        Course = Math.Abs(total) >= 0.0015 + (_digit / 2) ? Math.Sign(total) : 0;
        CourseIsSure = Math.Abs(total) >= Math.Max(LeastCourse, (5 * _noise) + (2 * _digit)) && Math.Abs(total) > 0.5 * (Rise + Fall);
    }

    private bool Flows(Row row) => Math.Abs(row.Amps) > LeastFlow && Math.Abs(row.Amps) <= 1.01 * _largest;

    private bool GoesOn(Row before, Row now) => now.Session == before.Session && Flows(now)
        && Math.Sign(now.Amps) == Math.Sign(before.Amps) && Math.Abs(now.Amps - before.Amps) <= Math.Max(0.1 * _largest, 1.01 * _digitOfCurrent);

    // The middle of three rows at one end of a stretch, where it has as many at either end.
    private (double Volts, double Amps) Level(int from, int to, bool fromEnd)
    {
        if (to - from < 6)
        {
            Row end = _rows[fromEnd ? to - 1 : from];
            return (end.Volts, end.Amps);
        }

        int first = fromEnd ? to - 3 : from;
        return (Middle(_rows[first].Volts, _rows[first + 1].Volts, _rows[first + 2].Volts), Middle(_rows[first].Amps, _rows[first + 1].Amps, _rows[first + 2].Amps));
    }

    private static double Middle(double a, double b, double c) => Math.Max(Math.Min(a, b), Math.Min(Math.Max(a, b), c));

    private void FromHold()
    {
        using var buffer = new RowBuffer(_rows.Count);
        int flowing = 0;
        foreach (Row row in _rows)
        {
            if (Flows(row) && double.IsFinite(row.Volts))
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
        double near = 0.003 + _digit + (3 * _noise);
        List<Row> held = [.. _rows.Where(row => Flows(row) && row.Volts >= top - near)];
        int third = held.Count / 3;
        if (held.Count < LeastRows || third == 0 || held.Select(row => Math.Sign(row.Amps)).Distinct().Count() != 1)
        {
            return;
        }

        double first = Selection.At([.. held.Take(third).Select(row => Math.Abs(row.Amps))], third / 2);
        double last = Selection.At([.. held.TakeLast(third).Select(row => Math.Abs(row.Amps))], third / 2);
        int down = Enumerable.Range(1, held.Count - 1).Count(i => Math.Abs(held[i].Amps) < Math.Abs(held[i - 1].Amps));
        int up = Enumerable.Range(1, held.Count - 1).Count(i => Math.Abs(held[i].Amps) > Math.Abs(held[i - 1].Amps));
        if (first >= 0.3 * _largest && last < 0.7 * first && down >= 3 && down > 3 * up)
        {
            Hold = Math.Sign(held[0].Amps);
        }
    }
}
