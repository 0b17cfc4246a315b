using System.Buffers;
using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Import.Meanings;

namespace PackCare.Import.Sessions;

/// <summary>Turns columns with a meaning into the channels of sessions, digit by digit as they were logged.</summary>
internal sealed class Emitter(LogColumns columns, TimeAxis axis, SessionMap map)
{
    /// <summary>Makes the samples of every session; null where digits do not fit, with the problem told.</summary>
    internal SampleSeries[]? Emit()
    {
        List<(ChannelKey Key, ColumnRole Role)> sources = [];
        foreach (ColumnRole role in columns.Roles)
        {
            ChannelKey? key = role.Meaning switch
            {
                ColumnMeaning.PackVoltage => ChannelKey.PackVoltage,
                ColumnMeaning.CellVoltage => ChannelKey.Cell(role.Number!.Value),
                ColumnMeaning.Current => ChannelKey.Current,
                ColumnMeaning.Charge or ColumnMeaning.ChargeIn => ChannelKey.Charge,
                ColumnMeaning.Energy => ChannelKey.Energy,
                ColumnMeaning.Temperature => ChannelKey.Temperature(role.Number!.Value),
                ColumnMeaning.CellResistance => ChannelKey.CellResistance(role.Number!.Value),
                _ => null,
            };
            if (key is { } channel)
            {
                sources.Add((channel, role));
            }
        }

        var made = new Channel?[sources.Count + 1][];
        Parallel.For(0, sources.Count + 1, s => made[s] = s == sources.Count ? EmitTime() : EmitValues(sources[s].Key, sources[s].Role));
        if (made.Any(channels => channels.Any(channel => channel is null)))
        {
            columns.Refuse("too-many-digits", null, null, "numbers with more digits than can be kept", "write the log with fewer decimals");
            return null;
        }

        var sessions = new SampleSeries[map.Count];
        for (int s = 0; s < map.Count; s++)
        {
            List<Channel> channels = [.. made.Select(channel => channel[s]!)];
            int cells = channels.Count(channel => channel.Key.Kind == ChannelKind.CellVoltage);
            while (map.Count > 1 && cells > 1 && IsEmpty(channels.First(channel => channel.Key == ChannelKey.Cell(cells))))
            {
                channels.RemoveAll(channel => channel.Key == ChannelKey.Cell(cells) || channel.Key == ChannelKey.CellResistance(cells));
                cells--;
            }

            sessions[s] = new SampleSeries(channels);
        }

        return sessions;
    }

    private static bool IsEmpty(Channel channel)
    {
        // Nearly always the first readings tell.
        Span<double> first = stackalloc double[16];
        foreach (SampleBlock block in channel.Blocks)
        {
            BlockCodec.Decode(block, 1, first);
            if (AnyNumber(first[..Math.Min(block.Count, first.Length)]))
            {
                return false;
            }

            double[] all = new double[block.Count];
            BlockCodec.Decode(block, 1, all);
            if (AnyNumber(all))
            {
                return false;
            }
        }

        return true;
    }

    private static bool AnyNumber(ReadOnlySpan<double> values)
    {
        foreach (double value in values)
        {
            // A cell that is not connected is logged as nought.
            if (!double.IsNaN(value) && value != 0)
            {
                return true;
            }
        }

        return false;
    }

    private Channel?[] EmitValues(ChannelKey key, ColumnRole role)
    {
        bool converts = role.Unit is Unit.Fahrenheit or Unit.Kelvin;
        int shift = UnitMarks.DecimalShift(role.Unit);
        if (map.Count == 1 && !role.Negated && !converts)
        {
            List<SampleBlock?> blocks = [.. role.Values.Select(block => BlockCodec.Shift(block, shift))];
            return [blocks.Contains(null) ? null : new Channel(key, [.. blocks.Select(block => block!)])];
        }

        Channel?[] made = Write(key, role.Values, (_, values, decimals) =>
        {
            decimals = converts ? Convert(values, decimals, role.Unit) : decimals;
            if (role.Negated)
            {
                Negate(values);
            }

            return decimals + shift;
        });
        role.Release(columns.Table.Budget);
        LongLog.Sweep(columns.Table.Rows);
        return made;
    }

    private static void Negate(Span<long> values)
    {
        foreach (ref long value in values)
        {
            value = value == BlockCodec.Missing ? value : -value;
        }
    }

    // Kelvin is exact; Fahrenheit is rounded two decimals beyond what was logged.
    private static int Convert(Span<long> values, int decimals, Unit unit)
    {
        int places = unit == Unit.Kelvin ? Math.Max(decimals, 2) : decimals + 2;
        long raise = (long)Power(places - decimals);
        long zero = (unit == Unit.Kelvin ? 273_15 : 32_00) * (long)Power(places) / 100;
        foreach (ref long value in values)
        {
            long above = (value * raise) - zero;
            value = value == BlockCodec.Missing ? value
                : unit == Unit.Kelvin ? above : (long)Math.Round(above * 5 / 9m, MidpointRounding.ToEven);
        }

        return places;
    }

    private Channel?[] EmitTime()
    {
        if (map.Count == 1 && axis.Multiplier == 1)
        {
            long[] first = new long[axis.Blocks[0].Count];
            BlockCodec.Decode(axis.Blocks[0], first);
            List<SampleBlock?> blocks = [.. axis.Blocks.Select(block => BlockCodec.Shift(block, axis.Shift))];
            if (first[0] == 0 && !blocks.Contains(null))
            {
                return [new Channel(ChannelKey.Time, [.. blocks.Select(block => block!)])];
            }
        }

        var starts = new (long Value, int Decimals)?[map.Count];
        return Write(ChannelKey.Time, axis.Blocks, (session, values, decimals) =>
        {
            decimals += axis.Shift;
            (long Value, int Decimals) start = starts[session] ??= (values[0] * axis.Multiplier, decimals);

            if (decimals == start.Decimals && axis.Multiplier == 1 && Math.Abs(start.Value) < long.MaxValue / 4)
            {
                return TryTakeOff(values, start.Value) ? decimals : null;
            }

            foreach (ref long value in values)
            {
                Int128 difference = decimals >= start.Decimals
                    ? ((Int128)value * axis.Multiplier) - ((Int128)start.Value * Power(decimals - start.Decimals))
                    : ((Int128)value * axis.Multiplier * Power(start.Decimals - decimals)) - start.Value;
                if (value == BlockCodec.Missing || difference < 0 || difference >= long.MaxValue)
                {
                    return null;
                }

                value = (long)difference;
            }

            return Math.Max(decimals, start.Decimals);
        });
    }

    // Time never falls below the start of its session, and every row has one.
    private static bool TryTakeOff(Span<long> values, long start)
    {
        foreach (ref long value in values)
        {
            if (value < start || value > long.MaxValue / 2)
            {
                return false;
            }

            value -= start;
        }

        return true;
    }

    private static Int128 Power(int exponent)
    {
        Int128 power = 1;
        for (int i = 0; i < exponent; i++)
        {
            power *= 10;
        }

        return power;
    }

    /// <summary>Makes of a run of values of one block what is stored of a session; gives their decimals, or null where digits do not fit.</summary>
    private delegate int? Prepare(int session, Span<long> values, int decimals);

    private Channel?[] Write(ChannelKey key, IReadOnlyList<SampleBlock> blocks, Prepare prepare)
    {
        // A session's channel is closed with its last rows: a long log has thousands of them, which are not all to be open at once.
        var made = new Channel?[map.Count];
        var writers = new ChannelWriter?[map.Count];
        (int First, int Last)[] rows = map.Bounds();
        int start = 0;
        int segment = 0;
        long[] scaled = ArrayPool<long>.Shared.Rent(Channel.BlockRows);
        foreach (SampleBlock block in blocks)
        {
            int decimals = BlockCodec.Decode(block, scaled);
            int end = start + block.Count;
            for (int row = start; row < end;)
            {
                while (row >= map.Segments[segment].End)
                {
                    segment++;
                }

                int to = Math.Min(end, map.Segments[segment].End);
                int session = map.Segments[segment].Session;
                ChannelWriter writer = writers[session] ??= new ChannelWriter(key, columns.Table.Budget);
                Span<long> values = scaled.AsSpan((row - start)..(to - start));
                bool isLast = to == rows[session].Last + 1;
                if (prepare(session, values, decimals) is not { } places || (isLast ? (made[session] = writer.TryClose(values, places)) is null : !writer.TryAppend(values, places)))
                {
                    return new Channel?[map.Count];
                }

                writers[session] = isLast ? null : writer;
                row = to;
            }

            start = end;
        }

        ArrayPool<long>.Shared.Return(scaled);
        return made;
    }
}
