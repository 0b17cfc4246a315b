using PackCare.Import.Sessions;

namespace PackCare.Import.Meanings;

/// <summary>
/// Rows of a log in which cells are held against a column that is the current, or may be: of a long log the first rows of some of its blocks. What is
/// asked of them is not to be upset by one damaged row.
/// </summary>
internal sealed class FlowRows
{
    private const int MostBlocks = 4;
    private const int MostRows = Core.Samples.Channel.BlockRows;

    // Volts. The noise of instruments is measured besides.
    private const double LeastAnswer = 0.002;

    private readonly List<FlowRow> _rows;

    /// <summary>Reads them.</summary>
    /// <param name="axis">Time.</param>
    /// <param name="map">Sessions.</param>
    /// <param name="voltages">Cells, or the pack voltage alone.</param>
    /// <param name="share">What of such a voltage is looked at: that of one cell, where it is the pack's.</param>
    /// <param name="current">The column.</param>
    /// <param name="mode">The modes, or null.</param>
    internal FlowRows(TimeAxis axis, SessionMap map, IReadOnlyList<ColumnRole> voltages, double share, ColumnRole current, ColumnRole? mode = null)
        : this(Read(axis, map, Comparable(voltages), share, current, mode), voltages.Count == 0 ? 0 : share * voltages.Max(role => role.LastDigit), Math.Pow(10, -current.Column.MaxDecimals))
    {
    }

    private FlowRows(List<FlowRow> rows, double digit, double digitOfCurrent)
    {
        (_rows, Digit, DigitOfCurrent) = (rows, digit, digitOfCurrent);
        Largest = _rows.Count == 0 ? 0 : LargestButFew();
        Noise = NoiseOfOne();

        // Flicker of the last digit is no step, unless there are hardly more digits.
        double flicker = 1.01 * DigitOfCurrent;
        LeastStep = Math.Max(0.1 * Largest, Largest > 3 * flicker ? flicker : 0);
    }

    /// <summary>The rows, session by session.</summary>
    internal IReadOnlyList<FlowRow> Rows => _rows;

    /// <summary>The last digit of the voltage, in volts.</summary>
    internal double Digit { get; }

    /// <summary>The last digit of the current, in its unit.</summary>
    internal double DigitOfCurrent { get; }

    /// <summary>The largest current, without the few rows, if any, that are beyond three times all others.</summary>
    internal double Largest { get; }

    /// <summary>Standard deviation of one voltage, from how three in a row bend while the current stays.</summary>
    internal double Noise { get; }

    /// <summary>Less than this is no flow.</summary>
    internal double LeastFlow => 0.02 * Largest;

    /// <summary>Less than this is no step of the current.</summary>
    internal double LeastStep { get; }

    /// <summary>Less than this cannot be told from what the voltage does anyway.</summary>
    internal double LeastSeen => Math.Max(LeastAnswer, (4 * Noise) + Digit);

    /// <summary>Those of each session by themselves: where there are more, of the first ones.</summary>
    internal IEnumerable<FlowRows> Sessions(int most)
    {
        for (int from = 0, to; from < _rows.Count && most > 0; from = to, most--)
        {
            to = from + 1;
            while (to < _rows.Count && _rows[to].Session == _rows[from].Session)
            {
                to++;
            }

            yield return new FlowRows(_rows[from..to], Digit, DigitOfCurrent);
        }
    }

    /// <summary>Whether there are rows of more than one session.</summary>
    internal bool HasSessions => _rows.Count > 0 && _rows[0].Session != _rows[^1].Session;

    /// <summary>Whether current flows in a row, and no more than there can be.</summary>
    internal bool Flows(FlowRow row) => Math.Abs(row.Amps) > LeastFlow && Math.Abs(row.Amps) <= 1.01 * Largest;

    /// <summary>Whether a row follows the one before it in its session.</summary>
    internal bool Follows(int i) => i >= 1 && _rows[i].Session == _rows[i - 1].Session && _rows[i].Place <= _rows[i - 1].Place + 1;

    /// <summary>How far the current went since the row before.</summary>
    internal double AmpsSince(int i) => _rows[i].Amps - _rows[i - 1].Amps;

    /// <summary>How far the voltage went since the row before.</summary>
    internal double VoltsSince(int i) => _rows[i].Volts - _rows[i - 1].Volts;

    /// <summary>Whether the current stepped suddenly. One change of several in the same direction is none: the current slides, and the cells fill or empty meanwhile.</summary>
    internal bool Steps(int i) => Math.Abs(AmpsSince(i)) > LeastStep && !Slides(i - 1, AmpsSince(i)) && !Slides(i + 1, AmpsSince(i));

    /// <summary>Whether the voltage went as no cell's does: none steps by half a volt and lives, and none comes right back while the current does not.</summary>
    internal bool IsSpike(int i) => Math.Abs(VoltsSince(i)) > 0.5
        || (i + 1 < _rows.Count && _rows[i + 1].Session == _rows[i].Session && Math.Abs(AmpsSince(i + 1)) < 0.02 * Largest
            && Math.Abs(_rows[i + 1].Volts - _rows[i - 1].Volts) < 0.2 * Math.Abs(VoltsSince(i)));

    /// <summary>Whether the voltage went no further than it goes anyway from row to row beside that one: the cells fill or empty fast, and no step shows.</summary>
    internal bool IsCourse(int i) => Math.Abs(VoltsSince(i)) <= 1.2 * Math.Max(VoltsBeside(i - 1), VoltsBeside(i + 1));

    private double VoltsBeside(int i) => i < _rows.Count && Follows(i) && double.IsFinite(VoltsSince(i)) && Math.Abs(AmpsSince(i)) <= LeastStep ? Math.Abs(VoltsSince(i)) : 0;

    private bool Slides(int at, double amps) =>
        at >= 1 && at < _rows.Count && _rows[at].Session == _rows[at - 1].Session && AmpsSince(at) * Math.Sign(amps) > 0.1 * Math.Abs(amps);

    // From row to row the same cells are compared: one that has no reading now and then would move the middle of the others.
    private static List<ColumnRole> Comparable(IReadOnlyList<ColumnRole> voltages)
    {
        List<ColumnRole> whole = [.. voltages.Where(role => role.Profile is { Missing: 0 })];
        return whole.Count > 0 || voltages.Count == 0 ? whole : [voltages.MinBy(role => role.Profile!.Missing)!];
    }

    private static List<FlowRow> Read(TimeAxis axis, SessionMap map, List<ColumnRole> voltages, double share, ColumnRole current, ColumnRole? mode)
    {
        int?[] directions = mode is null ? [] : [.. mode.Column.Words.Select(ModeWords.DirectionOf)];
        int blocks = current.Values.Count;
        int taken = Math.Min(MostBlocks, blocks);
        int segment = 0;
        int[] places = new int[map.Count];
        double[] cells = new double[voltages.Count];
        var rows = new List<FlowRow>(Math.Min(MostRows, current.Values.Sum(block => block.Count)));
        for (int k = 0; k < taken; k++)
        {
            int block = k * blocks / taken;
            int start = current.Values.Take(block).Sum(before => before.Count);
            int count = Math.Min(current.Values[block].Count, MostRows / taken);
            double[] seconds = axis.Seconds(block, count);
            double[] amps = LogColumns.Values(current, block, 1, count);
            double[] words = mode is null ? [] : LogColumns.Values(mode, block, 1, count);
            double[][] volts = [.. voltages.Select(role => LogColumns.Values(role, block, share * role.Factor, count))];
            for (int s = 0; s < places.Length; s++)
            {
                places[s]++;
            }

            for (int i = 0; i < count; i++)
            {
                while (start + i >= map.Segments[segment].End)
                {
                    segment++;
                }

                int session = map.Segments[segment].Session;
                int place = places[session]++;
                double middle = RowMath.MedianOf(volts, i, cells);
                if (!double.IsNaN(amps[i]) && (double.IsFinite(middle) || mode is not null))
                {
                    int direction = mode is null || double.IsNaN(words[i]) ? 0 : directions[(int)words[i]] ?? 0;
                    rows.Add(new FlowRow(session, start + i, place, seconds[i], middle, amps[i], direction));
                }
            }
        }

        for (int i = 1; i < rows.Count; i++)
        {
            if (rows[i].Session < rows[i - 1].Session)
            {
                // Packs in turn: each has its own course. Rows of one session keep their order.
                return [.. rows.OrderBy(row => row.Session)];
            }
        }

        return rows;
    }

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

    private double NoiseOfOne()
    {
        using var buffer = new RowBuffer(_rows.Count);
        int bends = 0;
        for (int i = 2; i < _rows.Count; i++)
        {
            (FlowRow a, FlowRow b, FlowRow c) = (_rows[i - 2], _rows[i - 1], _rows[i]);
            double bend = a.Volts - (2 * b.Volts) + c.Volts;
            if (a.Session == c.Session && Math.Abs(a.Amps - b.Amps) + Math.Abs(c.Amps - b.Amps) <= 0.02 * Largest && double.IsFinite(bend))
            {
                buffer.Values[bends++] = Math.Abs(bend);
            }
        }

        const double NormalMedian = 0.6745;
        return bends < 3 ? 0 : Selection.At(buffer.Values.AsSpan(0, bends), bends / 2) / (NormalMedian * Math.Sqrt(6));
    }
}
