using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Import.Sessions;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>
/// Points at single values that are possible but look damaged: a lone number with other decimals than all others of its
/// column, a pack voltage that for one row is not the sum of the cells, one sample that jumps away and back.
/// </summary>
internal static class OddRows
{
    /// <summary>More of one kind are not told.</summary>
    internal const int MostTold = 10;

    /// <summary>What to do about a value that is possible.</summary>
    internal const string Advice = "have a look: it may have been damaged; it was kept as logged";

    private const double MostCellStep = 0.06;
    private const double MostGapStep = 0.03;
    private const double MostDegreesAtOnce = 15;
    private const double MostRowStep = 0.15;

    // Of the sum of the cells: what no lead takes, and what any may.
    private const double OtherShare = 0.08;
    private const double SameShare = 0.05;

    // Of the sum, where one column alone is the reason; of the jump.
    private const double LastingShare = 0.025;
    private const double MostComesBack = 0.3;
    private const double MostOthers = 0.2;

    /// <summary>Tells of them as notices; the values are kept as they were logged.</summary>
    /// <param name="columns">The columns, with their meanings.</param>
    /// <param name="map">Sessions.</param>
    /// <param name="voltages">What <see cref="Voltages"/> found.</param>
    internal static void Tell(LogColumns columns, SessionMap map, OddVoltages voltages)
    {
        foreach ((int line, int index) in columns.Roles.Where(role => role.IsUsed && role.Profile is not null && role.Column.OddDecimalsLine > 0).Select(role => (role.Column.OddDecimalsLine, role.Column.Index)).Distinct())
        {
            columns.Problems.Add(Refusals.Notice("odd-digits", line, index + 1, "a number with other decimals than all others of its column", Advice));
        }

        foreach (ColumnRole role in columns.OfMeaning(ColumnMeaning.Temperature).Where(role => role.Profile!.LargestStep * (role.Unit == Unit.Fahrenheit ? 5.0 / 9 : 1) > MostDegreesAtOnce))
        {
            double last = double.NaN;
            int? row = LogColumns.FirstRow(role, 1, value =>
            {
                double step = Math.Abs(value - last);
                last = double.IsNaN(value) ? last : value;
                return step >= role.Profile!.LargestStep;
            });
            columns.Notice("temperature-jumps", row, role, "a temperature that jumps further than a pack's does from one sample to the next", "have a look: a sensor may have come off, or the unit have changed; it was kept as logged");
        }

        foreach ((int row, string found) in voltages.Packs.Take(MostTold))
        {
            columns.Notice("pack-not-sum", row, columns.Single(ColumnMeaning.PackVoltage)!, found, Advice);
        }

        List<ColumnRole> cells = columns.Cells;
        if (voltages.Exchanged is (int at, int one, int other))
        {
            columns.Refuse("cells-exchanged", at, cells[other], $"cell {cells[one].Number} that goes on where cell {cells[other].Number} was, and the other way round", "put each value into its own column, or export the log again");
            return;
        }

        if (voltages.Crossed is (int crossed, int left, int right))
        {
            columns.Notice("cells-cross", crossed, cells[right], $"cells {cells[left].Number} and {cells[right].Number}, each of which goes on where the other was while the others stay", "have a look: their columns may have been exchanged from here on, or a balancer has turned from one to the other; both were kept as logged");
        }

        ColumnRole[] currents = cells.Count == 0 ? [] : [.. columns.OfMeaning(ColumnMeaning.Current)];
        IEnumerable<(ColumnRole Role, int Row)> spikes =
        [
            .. cells.Zip(voltages.Spikes, (role, rows) => rows.Select(row => (role, row))).SelectMany(found => found),
            .. columns.OfMeaning(ColumnMeaning.Temperature).SelectMany(role => Alone(role, role.Unit == Unit.Fahrenheit ? 5.0 / 9 : 1, 4, map)),
            .. columns.Roles.Where(role => role.Meaning is ColumnMeaning.Charge or ColumnMeaning.ChargeIn)
                .SelectMany(role => Alone(role, 1, Math.Max(0.05 * role.Profile!.LargestMagnitude, 10 * Math.Pow(10, -role.Column.MaxDecimals)), map)),
        ];
        foreach ((ColumnRole role, int row) in spikes.Take(MostTold))
        {
            columns.Notice("spike", row, role, "one sample that jumps away from its neighbours and back, alone", Advice);
        }

        foreach ((int row, int cell) in voltages.Jumps)
        {
            columns.Notice("voltage-jumps", row, cells[cell], $"cell {cells[cell].Number}, which from here on lies elsewhere while the other cells stay", "have a look: the column may have been damaged from here on, or the balance lead; it was kept as logged");
        }

        foreach (int row in RowsOfAnother(cells, currents, map).Take(MostTold))
        {
            columns.Notice("spike", row, cells[0], "a row in which all cells jump away from the rows beside it and back while the current stays", "have a look: it may belong to another log; it was kept as logged");
        }

        foreach (ColumnRole role in currents)
        {
            OddCurrents.Tell(columns, role, cells, map);
        }
    }

    private static IEnumerable<int> RowsOfAnother(List<ColumnRole> cells, ColumnRole[] currents, SessionMap map)
    {
        if (cells.Count < 2 || currents.Length != 1 || cells.Exists(cell => cell.Profile!.LargestStep * cell.Factor <= MostRowStep))
        {
            yield break;
        }

        var amps = new BlockCursor(currents[0].Values);
        var volts = new BlockCursor(cells[^1].Values);
        double least = 0.1 * currents[0].Profile!.LargestMagnitude;
        foreach ((_, int row) in Alone(cells[0], cells[0].Factor, MostRowStep, map))
        {
            (double before, double now, double after) = (volts.ValueAt(row - 1), volts.ValueAt(row), volts.ValueAt(row + 1));
            bool allJump = (now - before) * (now - after) > 0 && Math.Min(Math.Abs(now - before), Math.Abs(now - after)) * cells[^1].Factor > MostRowStep;
            if (allJump && Math.Abs(amps.ValueAt(row) - amps.ValueAt(row - 1)) <= least && Math.Abs(amps.ValueAt(row) - amps.ValueAt(row + 1)) <= least)
            {
                yield return row;
            }
        }
    }

    /// <summary>
    /// Compares the pack voltage of each row with the sum of the cells, as the rows beside it have it, and looks for cells
    /// that jump away and back while the others do not.
    /// </summary>
    /// <param name="pack">The pack voltage, or null.</param>
    /// <param name="cells">The cells.</param>
    /// <param name="map">Sessions.</param>
    internal static OddVoltages Voltages(ColumnRole? pack, List<ColumnRole> cells, SessionMap map)
    {
        if (cells.Count == 0 || Untangled.Of(map) is not { } turns)
        {
            return InOrder(pack, cells, map);
        }

        OddVoltages found = InOrder(pack is null ? null : turns.RoleOf(pack), [.. cells.Select(turns.RoleOf)], turns.Map);
        return new OddVoltages([.. found.Packs.Select(odd => (turns.RowOf(odd.Row), odd.Found))], [.. found.Spikes.Select(rows => rows.ConvertAll(turns.RowOf))])
        {
            Jumps = found.Jumps.ConvertAll(jump => (turns.RowOf(jump.Row), jump.Cell)),
            Exchanged = InLog(found.Exchanged),
            Crossed = InLog(found.Crossed),
        };

        (int, int, int)? InLog((int Row, int One, int Other)? exchange) => exchange is (int row, int one, int other) ? (turns.RowOf(row), one, other) : null;
    }

    private static OddVoltages InOrder(ColumnRole? pack, List<ColumnRole> cells, SessionMap map)
    {
        // Only a column that ever steps far enough is looked at sample by sample.
        bool[] watched = [.. cells.Select(role => role.Profile!.LargestStep * role.Factor > MostCellStep)];
        bool sums = pack is not null && cells.Count >= 1;
        var odd = new OddVoltages([], [.. cells.Select(_ => new List<int>())]);
        double digit = cells.Count == 0 ? 0 : cells.Max(role => role.LastDigit);
        bool mayJump = cells.Count > 1 && cells.Exists(role => role.Profile!.LargestStep * role.Factor > LastingJumps.LeastExchange);
        if (!sums && !mayJump && !watched.Contains(true))
        {
            return odd;
        }

        int longest = cells[0].Values.Max(block => block.Count);
        RowBuffer[] buffers = [.. cells.Select(_ => new RowBuffer(longest))];
        using var difference = new RowBuffer(sums ? longest : 0);
        double[][] volts = [.. buffers.Select(buffer => buffer.Values)];
        double[] gaps = difference.Values;
        double[] median = new double[cells.Count];
        int start = 0;
        for (int b = 0; b < cells[0].Values.Count; b++)
        {
            int count = cells[0].Values[b].Count;
            for (int c = 0; c < cells.Count; c++)
            {
                LogColumns.Read(cells[c].Values[b], cells[c].Factor, volts[c]);
            }

            if (sums)
            {
                LogColumns.Read(pack!.Values[b], pack.Factor, gaps);
                TakeOff(gaps.AsSpan(0, count), volts);
                odd.Gaps = b == 0 && PackAgainstCells.MayStray(gaps.AsSpan(0, count), volts) ? gaps[..count] : odd.Gaps;
                FindOff(gaps.AsSpan(0, count), volts, start, map, odd.Packs);
                foreach ((int row, double before, double after) in LastingJumps.FindInPack(gaps, count, volts, pack!.LastDigit, start, map).Where(jump => odd.Packs.Count < MostTold && !odd.Packs.Exists(told => told.Row == jump.Row)))
                {
                    odd.Packs.Add((row, string.Create(CultureInfo.InvariantCulture, $"a pack voltage that is {after:0.###} V off the sum of the cells from here on, and {before:0.###} V before")));
                }
            }

            if (mayJump)
            {
                LastingJumps.FindInCells(volts, count, digit, start, map, odd);
            }

            if (watched.Count(one => one) > 1)
            {
                odd.Exchanged ??= FindExchange(volts, count, watched, start, map);
            }

            for (int c = 0; c < cells.Count; c++)
            {
                if (watched[c])
                {
                    FindSpikes(volts[c].AsSpan(0, count), start, MostCellStep, map, i => cells.Count > 1 ? Common(volts, i, median) : 0, spiked =>
                    {
                        if (odd.Spikes[c].Count < MostTold)
                        {
                            odd.Spikes[c].Add(spiked);
                        }
                    });
                }
            }

            for (int c = 0; c < cells.Count && cells.Count > 1 && count > 2; c++)
            {
                if (watched[c] && b == 0 && JumpsAtEnd(volts, c, 0, 1))
                {
                    odd.Spikes[c].Insert(0, 0);
                }

                if (watched[c] && b == cells[0].Values.Count - 1 && JumpsAtEnd(volts, c, count - 1, -1))
                {
                    odd.Spikes[c].Add(start + count - 1);
                }
            }

            start += count;
        }

        Array.ForEach(buffers, buffer => buffer.Dispose());
        return odd;
    }

    // The first or last sample of one cell is far from the next two, which lie close together, while the other cells stay.
    private static bool JumpsAtEnd(double[][] volts, int cell, int at, int step)
    {
        const double MostGoesOn = 0.2;
        double jump = volts[cell][at] - volts[cell][at + step];
        double next = volts[cell][at + step] - volts[cell][at + (2 * step)];
        double[] others = [.. volts.Where((_, c) => c != cell).Select(other => other[at] - other[at + step])];
        return Math.Abs(jump) > MostCellStep && Math.Abs(Middle(others)) < MostGoesOn * Math.Abs(jump) && Math.Abs(next) < MostGoesOn * Math.Abs(jump);
    }

    // Two cells each of which goes on where the other was, far apart as they are: no cells do that.
    private static (int Row, int One, int Other)? FindExchange(double[][] volts, int count, bool[] watched, int start, SessionMap map)
    {
        const double SameShare = 0.15;
        const double MostOther = 0.3;
        for (int one = 0; one < volts.Length; one++)
        {
            for (int i = watched[one] ? RowMath.NextStepOver(volts[one].AsSpan(0, count), 1, MostCellStep) : count; i < count; i = RowMath.NextStepOver(volts[one].AsSpan(0, count), i + 1, MostCellStep))
            {
                double step = volts[one][i] - volts[one][i - 1];
                for (int other = one + 1; other < volts.Length; other++)
                {
                    double near = SameShare * Math.Abs(step);
                    if (watched[other] && (volts[other][i] - volts[other][i - 1]) * step < 0 && Math.Abs(volts[other][i] - volts[one][i - 1]) < near && Math.Abs(volts[one][i] - volts[other][i - 1]) < near
                        && map.SegmentOf(start + i).Start < start + i && OthersStay(volts, i, one, other, MostOther * Math.Abs(step)))
                    {
                        return (start + i, one, other);
                    }
                }
            }
        }

        return null;
    }

    // Where a load ends, weak cells go past each other.
    private static bool OthersStay(double[][] volts, int row, int one, int other, double within)
    {
        double[] steps = [.. volts.Where((_, c) => c != one && c != other).Select(cell => cell[row] - cell[row - 1])];
        return steps.Length == 0 || Array.TrueForAll(steps, step => !(Math.Abs(step) > within));
    }

    private static void TakeOff(Span<double> gaps, double[][] volts)
    {
        foreach (double[] cell in volts)
        {
            RowMath.Subtract(gaps, cell);
        }
    }

    private static void FindOff(ReadOnlySpan<double> gaps, double[][] volts, int start, SessionMap map, List<(int Row, string Found)> odd)
    {
        int count = gaps.Length;
        for (int i = 0; i < gaps.Length; i++)
        {
            // Only a row that differs from the one before it or after it is looked at.
            i = Math.Max(i, RowMath.NextStepOver(gaps, i, MostGapStep) - 1);
            double before = i > 0 ? gaps[i - 1] : double.NaN;
            double after = i + 1 < gaps.Length ? gaps[i + 1] : double.NaN;
            if (!(Math.Abs(gaps[i] - before) > MostGapStep || Math.Abs(gaps[i] - after) > MostGapStep) || odd.Count > MostTold)
            {
                continue;
            }

            Segment segment = map.SegmentOf(start + i);
            before = start + i > segment.Start ? before : double.NaN;
            after = start + i + 1 < segment.End ? after : double.NaN;
            double usual = double.IsNaN(before) ? after : double.IsNaN(after) ? before : (before + after) / 2;
            double limit = MostGapStep + (double.IsNaN(before - after) ? 0 : 2 * Math.Abs(before - after));
            double sum = volts.Sum(cell => cell[i]);
            if (Math.Abs(gaps[i]) > OtherShare * sum && Math.Abs(before) < SameShare * sum && Math.Abs(gaps[i] - after) < Math.Abs(gaps[i] - before))
            {
                odd.Add((start + i, string.Create(CultureInfo.InvariantCulture, $"a pack voltage that is {gaps[i]:0.###} V off the sum of the cells from here on, where it was not before")));
            }
            else if (Math.Abs(gaps[i] - before) > LastingShare * sum && Math.Abs(gaps[i]) > Math.Abs(before) && Math.Abs(gaps[i] - after) < MostComesBack * Math.Abs(gaps[i] - before) && IsOfOneColumn(gaps[i] - before, i))
            {
                odd.Add((start + i, string.Create(CultureInfo.InvariantCulture, $"a pack voltage that is {gaps[i]:0.###} V off the sum of the cells from here on, and {before:0.###} V before")));
            }
            else if (Math.Abs(gaps[i] - usual) > limit && !LeadsTakeIt(gaps[i] - usual, i))
            {
                odd.Add((start + i, string.Create(CultureInfo.InvariantCulture, $"a pack voltage that is {gaps[i] * 1000:0} mV off the sum of the cells, where the rows beside it are {usual * 1000:0} mV off")));
            }
        }

        // One cell alone jumps by as much, or the pack voltage while no cell does: no load is the reason.
        bool IsOfOneColumn(double jump, int row)
        {
            double[] steps = [.. volts.Select(cell => cell[row] - cell[row - 1])];
            double most = steps.MaxBy(Math.Abs);
            double rest = steps.Sum(Math.Abs) - Math.Abs(most);
            return rest < MostOthers * Math.Abs(jump) && (Math.Abs(most + jump) < MostOthers * Math.Abs(jump) || Math.Abs(most) < MostOthers * Math.Abs(jump));
        }

        // A load that one sample alone has seen: the cells give way to it as well, and by more than the leads do.
        bool LeadsTakeIt(double off, int row)
        {
            double went = 0;
            foreach (double[] cell in volts)
            {
                double beside = row > 0 && row + 1 < count ? (cell[row - 1] + cell[row + 1]) / 2 : row > 0 ? cell[row - 1] : cell[row + 1];
                went += cell[row] - beside;
            }

            return went * off > 0 && Math.Abs(went) > 2 * Math.Abs(off);
        }
    }

    // One column by itself.
    private static List<(ColumnRole Role, int Row)> Alone(ColumnRole role, double factor, double limit, SessionMap map)
    {
        var rows = new List<(ColumnRole Role, int Row)>();
        if (!(role.Profile!.LargestStep * factor > limit))
        {
            return rows;
        }

        using var buffer = new RowBuffer(role.Values.Max(block => block.Count));
        double[] values = buffer.Values;
        int start = 0;
        foreach (SampleBlock block in role.Values)
        {
            LogColumns.Read(block, factor, values);
            FindSpikes(values.AsSpan(0, block.Count), start, limit, map, _ => 0, row => rows.Add((role, row)));
            start += block.Count;
        }

        return rows;
    }

    private static void FindSpikes(ReadOnlySpan<double> values, int start, double limit, SessionMap map, Func<int, double> common, Action<int> tell)
    {
        for (int i = RowMath.NextStepOver(values, 1, limit); i + 1 < values.Length; i = RowMath.NextStepOver(values, i + 1, limit))
        {
            double before = values[i] - values[i - 1];
            double after = values[i] - values[i + 1];
            if (!(Math.Abs(before) > limit && before * after > 0 && Math.Abs(values[i + 1] - values[i - 1]) < limit))
            {
                continue;
            }

            Segment segment = map.SegmentOf(start + i);
            if (start + i == segment.Start || start + i + 1 == segment.End)
            {
                continue;
            }

            double shared = common(i);
            if (Math.Abs(before - shared) > limit && Math.Abs(after - shared) > limit)
            {
                tell(start + i);
            }
        }
    }

    // What all cells do together at this sample is the current's doing.
    private static double Common(double[][] volts, int i, double[] median)
    {
        for (int c = 0; c < median.Length; c++)
        {
            median[c] = volts[c][i] - ((volts[c][i - 1] + volts[c][i + 1]) / 2);
        }

        return Middle(median);
    }

    /// <summary>The middle of what cells do; of two middle ones that which does less, for the other may be alone with it. Sorts them.</summary>
    internal static double Middle(double[] cells)
    {
        Array.Sort(cells);
        double upper = cells[cells.Length / 2];
        double lower = cells[(cells.Length - 1) / 2];
        return Math.Abs(lower) < Math.Abs(upper) ? lower : upper;
    }
}
