using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Import.Sessions;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Makes one signed column of what a log keeps apart: a current and its mode, a counter for each direction.</summary>
internal static class FlowCombiner
{
    /// <summary>Combines, where there is something to combine.</summary>
    internal static void Combine(LogColumns columns, SessionMap map)
    {
        ColumnRole? counter = Difference(columns, ColumnMeaning.Charge, "charge", (to, from) =>
        {
            to.Take(ColumnMeaning.ChargeIn, to.Unit, null, $"{to.Why}, that of charging alone; column {from.Column.Index + 1} is taken off it");
            from.Take(ColumnMeaning.ChargeOut, from.Unit, null, $"{from.Why}, that of discharging alone; taken off column {to.Column.Index + 1}");
        });
        if (columns.IsRefused)
        {
            return;
        }

        Difference(columns, ColumnMeaning.Current, "current", (to, from) =>
        {
            to.Why = $"{to.Why} into the pack; column {from.Column.Index + 1} is taken off it";
            from.Take(ColumnMeaning.CurrentOut, from.Unit, null, $"the current out of the pack; taken off column {to.Column.Index + 1}");
        });
        List<ColumnRole> currents = [.. columns.OfMeaning(ColumnMeaning.Current)];
        if (columns.IsRefused || currents.Count != 1 || currents[0].Profile is not { Min: >= 0, IsConstantZero: false })
        {
            return;
        }

        ColumnRole? mode = columns.Single(ColumnMeaning.Mode);
        if (mode is not null && mode.Column.Words.Any(word => ModeWords.DirectionOf(word) is 1 or -1))
        {
            ByMode(columns, currents[0], mode);
        }
        else if (counter is not null && counter.Profile!.Rises > 0 && counter.Profile.Falls > 0)
        {
            ByCounter(columns, currents[0], counter, map);
        }
    }

    private static ColumnRole? Difference(LogColumns columns, ColumnMeaning meaning, string what, Action<ColumnRole, ColumnRole> tell)
    {
        List<ColumnRole> roles = [.. columns.OfMeaning(meaning)];
        List<ColumnRole> outward = [.. roles.Where(role => role.Hint.IsOut)];
        List<ColumnRole> inward = [.. roles.Where(role => role.Hint.IsIn)];
        if (inward.Count == 0)
        {
            inward = [.. roles.Where(role => !role.Hint.IsOut)];
        }

        if (outward.Count != 1 || inward.Count != 1 || roles.Count != 2)
        {
            return null;
        }

        (ColumnRole to, ColumnRole from) = (inward[0], outward[0]);
        if (from.Profile is { IsConstant: true, IsConstantZero: false } && !to.Profile!.IsConstant)
        {
            from.Take(ColumnMeaning.Ignored, Unit.None, null, $"a {what} that never changes, counted before this log; left out");
            columns.Notice("charge-disagrees", 0, from, $"a {what} that never changes while the other counts", "the column was left out");
            return null;
        }

        if (to.Profile!.Min < 0 || from.Profile!.Min < 0)
        {
            return null;
        }

        bool isOpen = (to.Hint.IsGuided || from.Hint.IsGuided) && (to.Hint.Unit == Unit.None || from.Hint.Unit == Unit.None);
        if (to.Hint.Unit != from.Hint.Unit && !isOpen)
        {
            columns.Refuse("units-differ", 0, from, $"a {what} in and a {what} out in different units", "write both in one unit");
            return null;
        }

        var writer = new ChannelWriter(ChannelKey.Charge);
        long[] plus = new long[Channel.BlockRows];
        long[] minus = new long[Channel.BlockRows];
        for (int b = 0; b < to.Values.Count; b++)
        {
            int plusDecimals = BlockCodec.Decode(to.Values[b], plus);
            int minusDecimals = BlockCodec.Decode(from.Values[b], minus);
            int decimals = Math.Max(plusDecimals, minusDecimals);
            long plusFactor = (long)Math.Pow(10, decimals - plusDecimals);
            long minusFactor = (long)Math.Pow(10, decimals - minusDecimals);
            for (int i = 0; i < to.Values[b].Count; i++)
            {
                if (plus[i] == BlockCodec.Missing || minus[i] == BlockCodec.Missing || !writer.TryAppend((plus[i] * plusFactor) - (minus[i] * minusFactor), decimals))
                {
                    writer.AppendMissing();
                }
            }
        }

        to.Replace(writer.ToChannel().Blocks);
        tell(to, from);
        return to;
    }

    /// <summary>Gives a current without a sign that of the modes beside it.</summary>
    internal static void ByMode(LogColumns columns, ColumnRole current, ColumnRole mode)
    {
        int?[] directions = [.. mode.Column.Words.Select(ModeWords.DirectionOf)];
        if (ModeWords.Damaged(mode.Column.Words) is (int odd, string usual))
        {
            columns.Refuse(
                "direction-unclear", LogColumns.FirstRow(mode, 1, word => word == odd), mode, $"a mode \"{Refusals.Snippet(mode.Column.Words[odd])}\" that differs from \"{Refusals.Snippet(usual)}\" by one letter and would mean something else",
                "correct that word, or export the log again");
            return;
        }

        double least = 0.02 * current.Profile!.LargestMagnitude;
        long[] words = new long[Channel.BlockRows];
        var writer = new ChannelWriter(ChannelKey.Current);
        long[] amps = new long[Channel.BlockRows];
        int row = 0;
        int last = 0;
        int? balanced = null;
        for (int b = 0; b < current.Values.Count; b++)
        {
            int decimals = BlockCodec.Decode(current.Values[b], amps);
            double divisor = Math.Pow(10, decimals);
            BlockCodec.Decode(mode.Values[b], words);
            for (int i = 0; i < current.Values[b].Count; i++, row++)
            {
                if (amps[i] == BlockCodec.Missing)
                {
                    writer.AppendMissing();
                    continue;
                }

                int? direction = words[i] == BlockCodec.Missing ? null : directions[(int)words[i]];
                if (direction is null or 0 && amps[i] / divisor > least)
                {
                    columns.Refuse(
                        "direction-unclear", row, current, direction is null ? "a current without a sign under a mode that is not known" : "a current while the mode says rest",
                        "log the current with its sign, or name the modes charge, discharge and rest");
                    return;
                }

                balanced ??= direction == 1 && amps[i] / divisor > least / 10 && ModeWords.IsBalancing(mode.Column.Words[(int)words[i]]) ? row : null;
                last = direction is 1 or -1 ? direction.Value : last == 0 ? 1 : last;
                writer.TryAppend(amps[i] * last, decimals);
            }
        }

        if (balanced is int balancing && !mode.Column.Words.Any(word => ModeWords.DirectionOf(word) == 1 && !ModeWords.IsBalancing(word)))
        {
            columns.Notice("sign-assumed", balancing, current, "a current without a sign while the cells are balanced", "it was taken for charging; if it is not, log the current with its sign");
        }

        current.Replace(writer.ToChannel().Blocks);
        current.HasProvedSign = true;
        current.Why = $"{current.Why}; its sign comes from the modes in column {mode.Column.Index + 1}";
    }

    // Each row flows the way the counters next move; where they move one way before and the other after, a row without current parts them.
    private static void ByCounter(LogColumns columns, ColumnRole current, ColumnRole counter, SessionMap map)
    {
        // Packs in turn have a counter each: rows of a session are held against each other.
        var directions = new sbyte[map.Segments[^1].End];
        var resting = new bool[directions.Length];
        var previous = new double[map.Count];
        Array.Fill(previous, double.NaN);
        double least = 0.02 * current.Profile!.LargestMagnitude;
        int row = 0;
        int segment = 0;
        for (int b = 0; b < counter.Values.Count; b++)
        {
            double[] counted = LogColumns.Values(counter, b, 1);
            double[] amps = LogColumns.Values(current, b, 1);
            for (int i = 0; i < counted.Length; i++, row++)
            {
                while (row >= map.Segments[segment].End)
                {
                    segment++;
                }

                ref double before = ref previous[map.Segments[segment].Session];
                directions[row] = (sbyte)(double.IsNaN(counted[i] - before) ? 0 : Math.Sign(counted[i] - before));
                before = double.IsNaN(counted[i]) ? before : counted[i];
                resting[row] = !(amps[i] > least);
            }
        }

        foreach (IGrouping<int, Segment> session in map.Segments.GroupBy(one => one.Session))
        {
            Segment[] runs = [.. session];
            sbyte[] ways = [.. runs.SelectMany(run => new ArraySegment<sbyte>(directions, run.Start, run.End - run.Start))];
            bool[] rests = [.. runs.SelectMany(run => new ArraySegment<bool>(resting, run.Start, run.End - run.Start))];
            if (!Fill(ways, rests, out int unclear))
            {
                columns.Refuse("direction-unclear", RowOf(unclear), current, "a current without a sign between charging and discharging", "log the current with its sign");
                return;
            }

            if (!Array.Exists(ways, way => way != 0) && Array.FindIndex(rests, rest => !rest) is >= 0 and var flows)
            {
                columns.Notice("sign-assumed", RowOf(flows), current, "a current without a sign in a session in which neither counter moves", "it was taken for charging; if it is not, log the current with its sign");
            }

            int done = 0;
            foreach (Segment run in runs)
            {
                ways.AsSpan(done, run.End - run.Start).CopyTo(directions.AsSpan(run.Start));
                done += run.End - run.Start;
            }

            int RowOf(int place)
            {
                foreach (Segment run in runs)
                {
                    if (place < run.End - run.Start)
                    {
                        return run.Start + place;
                    }

                    place -= run.End - run.Start;
                }

                return 0;
            }
        }

        var writer = new ChannelWriter(ChannelKey.Current);
        long[] scaled = new long[Channel.BlockRows];
        int at = 0;
        foreach (SampleBlock block in current.Values)
        {
            int decimals = BlockCodec.Decode(block, scaled);
            for (int i = 0; i < block.Count; i++, at++)
            {
                if (scaled[i] == BlockCodec.Missing)
                {
                    writer.AppendMissing();
                }
                else
                {
                    writer.TryAppend(scaled[i] * (directions[at] < 0 ? -1 : 1), decimals);
                }
            }
        }

        current.Replace(writer.ToChannel().Blocks);
        current.HasProvedSign = true;
        current.Why = $"{current.Why}; its sign comes from the counters of charge and discharge";
    }

    private static bool Fill(Span<sbyte> directions, ReadOnlySpan<bool> resting, out int unclear)
    {
        unclear = 0;
        int before = -1;
        for (int i = 0; i <= directions.Length; i++)
        {
            if (i < directions.Length && directions[i] == 0)
            {
                continue;
            }

            if (before < 0)
            {
                if (i == directions.Length)
                {
                    return true;
                }

                directions[..i].Fill(directions[i]);
            }
            else if (i == directions.Length)
            {
                directions[(before + 1)..].Fill(directions[before]);
            }
            else if (directions[i] == directions[before])
            {
                directions[(before + 1)..i].Fill(directions[i]);
            }
            else
            {
                int rest = -1;
                for (int r = before + 1; r <= i; r++)
                {
                    if (resting[r])
                    {
                        rest = r;
                        break;
                    }
                }

                if (rest < 0 && i > before + 1)
                {
                    unclear = before + 1;
                    return false;
                }

                if (rest >= 0)
                {
                    directions[(before + 1)..rest].Fill(directions[before]);
                    directions[rest..i].Fill(directions[i]);
                }
            }

            before = i;
        }

        return true;
    }
}
