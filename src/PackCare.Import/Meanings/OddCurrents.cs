using PackCare.Import.Sessions;

namespace PackCare.Import.Meanings;

/// <summary>
/// Points at single values of a current that are possible but look damaged: one that jumps away and back while the cells do not answer, one that only
/// with the other sign explains what the cells do, and one at either end of the log that dwarfs all others.
/// </summary>
internal sealed class OddCurrents
{
    // Of the largest current.
    private const double LeastStep = 0.2;

    // V, of a cell from one sample to the next, without any load.
    private const double MostIdleStep = 0.002;
    private const double LeastAnswer = 0.006;
    private const double MostOther = 0.1;
    private const int FewestBeside = 5;
    private const int FewestSteps = 3;
    private const int EnoughSteps = 2000;

    private readonly LogColumns _columns;
    private readonly ColumnRole _current;
    private readonly List<ColumnRole> _cells;
    private readonly SessionMap _map;
    private readonly Untangled? _turns;
    private readonly double _digit;
    private readonly double _least;
    private readonly double[] _bends;
    private double? _ohms;

    private OddCurrents(LogColumns columns, ColumnRole current, List<ColumnRole> cells, SessionMap map, Untangled? turns)
    {
        (_columns, _current, _cells, _map, _turns) = (columns, current, cells, map, turns);
        _digit = cells.Max(cell => cell.LastDigit);
        _least = LeastStep * current.Profile!.LargestMagnitude;
        _bends = new double[cells.Count];
    }

    /// <summary>Tells of them as notices; the values are kept as they were logged.</summary>
    /// <param name="columns">The columns, with their meanings.</param>
    /// <param name="current">The current.</param>
    /// <param name="cells">The cells, at least one.</param>
    /// <param name="map">Sessions.</param>
    internal static void Tell(LogColumns columns, ColumnRole current, List<ColumnRole> cells, SessionMap map)
    {
        if (Untangled.Of(map) is { } turns)
        {
            new OddCurrents(columns, turns.RoleOf(current), [.. cells.Select(turns.RoleOf)], turns.Map, turns).TellOfSingles();
            return;
        }

        var odd = new OddCurrents(columns, current, cells, map, null);
        odd.TellOfSingles();
        odd.TellOfEnd(isFirst: true);
        odd.TellOfEnd(isFirst: false);
    }

    private void TellOfSingles()
    {
        if (!(_current.Profile!.LargestStep > _least))
        {
            return;
        }

        using var buffer = new RowBuffer(_current.Values.Max(block => block.Count));
        int start = 0;
        int told = 0;
        for (int b = 0; b < _current.Values.Count && told < OddRows.MostTold; b++)
        {
            LogColumns.Read(_current.Values[b], 1, buffer.Values);
            ReadOnlySpan<double> amps = buffer.Values.AsSpan(0, _current.Values[b].Count);
            double[][]? volts = null;
            for (int i = RowMath.NextStepOver(amps, 1, _least); i < amps.Length && told < OddRows.MostTold; i = RowMath.NextStepOver(amps, i + 1, _least))
            {
                Segment segment = _map.SegmentOf(start + i);
                if (start + i + 1 == segment.End && IsMirroredAtEnd(volts ??= Volts(b), amps, i, segment.End - segment.Start))
                {
                    TellOfTurned(start + i);
                    told++;
                }

                // Within a session, and within what is read at a time.
                if (start + i == segment.Start || start + i + 1 == segment.End || i + 1 == amps.Length)
                {
                    continue;
                }

                (double before, double now, double after) = (amps[i - 1], amps[i], amps[i + 1]);
                if (!((now - before) * (now - after) > 0))
                {
                    continue;
                }

                bool isAlone = Math.Abs(after - before) < _least;
                bool isTurned = now * before < 0 && now * after < 0;
                if (!isAlone && !isTurned)
                {
                    continue;
                }

                volts ??= Volts(b);
                double jump = now - ((before + after) / 2);
                double bend = Bend(volts, i);
                if (isTurned && IsTurned(bend, jump, now, volts, amps))
                {
                    TellOfTurned(start + i);
                    told++;
                }
                else if (isAlone && Math.Abs(bend) < Math.Max(Math.Max(MostIdleStep, 0.51 * _digit), CellAnswer.LeastCellOhms * Math.Abs(jump * _current.Factor)))
                {
                    _columns.Notice("spike", RowOf(start + i), _current, "one sample of the current that jumps away from its neighbours and back while the cells do not answer", OddRows.Advice);
                    told++;
                }
            }

            start += amps.Length;
        }
    }

    private void TellOfTurned(int place) =>
        _columns.Notice("spike", RowOf(place), _current, "one sample of the current with the other sign than those beside it, while the cells go on as without", OddRows.Advice);

    // The last sample of a session has the current of the one before it with the other sign, and the cells go on as they went.
    private bool IsMirroredAtEnd(double[][] volts, ReadOnlySpan<double> amps, int i, int rows)
    {
        if (rows < FewestBeside || i < 2 || !(Math.Abs(amps[i] + amps[i - 1]) < MostOther * Math.Abs(amps[i])))
        {
            return false;
        }

        double went = Step(volts, i);
        double course = Step(volts, i - 1);
        return Math.Abs(went - course) <= Math.Max(2.01 * _digit, Math.Abs(course) / 2);
    }

    private double Step(double[][] volts, int i)
    {
        for (int c = 0; c < _bends.Length; c++)
        {
            _bends[c] = volts[c][i] - volts[c][i - 1];
        }

        return OddRows.Middle(_bends);
    }

    private int RowOf(int place) => _turns?.RowOf(place) ?? place;

    // The other sign explains what the cells do, and the logged one does not.
    private bool IsTurned(double bend, double jump, double now, double[][] volts, ReadOnlySpan<double> amps)
    {
        _ohms ??= Ohms(volts, amps);
        double apart = 2 * _ohms.Value * now;
        return Math.Abs(apart) >= Math.Max(LeastAnswer, 3 * _digit) && (bend - (_ohms.Value * (jump - (2 * now)))) / apart < 0.3;
    }

    // Volts for one of the current's unit, as it was logged: the middle one of the steps that do not come right back. 0 where few are known.
    private double Ohms(double[][] volts, ReadOnlySpan<double> amps)
    {
        var found = new List<double>();
        for (int i = RowMath.NextStepOver(amps, 1, _least); i < amps.Length && found.Count < EnoughSteps; i = RowMath.NextStepOver(amps, i + 1, _least))
        {
            if (amps[i] * amps[i - 1] >= 0 && Step(volts, i) is var step && double.IsFinite(step))
            {
                found.Add(step / (amps[i] - amps[i - 1]));
            }
        }

        return found.Count < FewestSteps ? 0 : Selection.At([.. found], found.Count / 2);
    }

    // What all cells do together at this sample.
    private double Bend(double[][] volts, int i)
    {
        for (int c = 0; c < _bends.Length; c++)
        {
            _bends[c] = volts[c][i] - ((volts[c][i - 1] + volts[c][i + 1]) / 2);
        }

        return OddRows.Middle(_bends);
    }

    // The first or last sample of the log has a neighbour on one side only. Much more than all others near it, while the cells stay where they are or were not
    // read, is no load; it may be their sum.
    private void TellOfEnd(bool isFirst)
    {
        int block = isFirst ? 0 : _current.Values.Count - 1;
        double[] values = LogColumns.Values(_current, block, 1);
        if (values.Length < FewestBeside)
        {
            return;
        }

        (int at, int beside) = isFirst ? (0, 1) : (values.Length - 1, values.Length - 2);
        if (Math.Abs(values[at]) < _current.Profile!.LargestMagnitude || !(Math.Abs(values[at]) > 2 * MostBut(values, at)))
        {
            return;
        }

        double[] steps = [.. Volts(block).Select(volts => Math.Abs(volts[at] - volts[beside])).Order()];
        if (!(steps[steps.Length / 2] >= Math.Max(MostIdleStep, 1.01 * _digit)))
        {
            string found = $"a current in the {(isFirst ? "first" : "last")} sample that is more than twice all others while the cells do not answer";
            _columns.Notice("spike", isFirst ? 0 : _columns.Table.Rows - 1, _current, found, OddRows.Advice);
        }
    }

    private double[][] Volts(int block) => [.. _cells.Select(cell => block == 0 ? cell.FirstValues : LogColumns.Values(cell, block, cell.Factor))];

    private static double MostBut(double[] values, int at)
    {
        double most = 0;
        for (int i = 0; i < values.Length; i++)
        {
            most = i == at || double.IsNaN(values[i]) ? most : Math.Max(most, Math.Abs(values[i]));
        }

        return most;
    }
}
