using PackCare.Core.Samples;
using PackCare.Import.Sessions;

namespace PackCare.Import.Meanings;

/// <summary>What current, charge and voltage say of each other over the whole log, gathered in one pass.</summary>
internal sealed class Flow
{
    /// <summary>A longer step of time, as a multiple of the one before, is a pause of the logger.</summary>
    internal const double MostPause = 20;

    private sealed class State
    {
        internal double Time = double.NaN;
        internal double Step = double.NaN;
        internal double Volts = double.NaN;
        internal double Current = double.NaN;
        internal double Charge = double.NaN;

        // Current times time since the counter's last reading, and the same of its magnitude.
        internal double Unread;
        internal double UnreadSize;
    }

    /// <summary>Sum of current times time, in the current's unit and seconds.</summary>
    internal double Integral { get; private set; }

    /// <summary>The same of the current's magnitude.</summary>
    internal double AbsoluteIntegral { get; private set; }

    /// <summary>The same over the rows in which the counter moved or could have.</summary>
    internal double CountedIntegral { get; private set; }

    /// <summary>How far the counter went, in its unit, steps to a fresh start left out.</summary>
    internal double CounterPath { get; private set; }

    /// <summary>Where the counter went, signed by the current's sign.</summary>
    internal double CounterBySign { get; private set; }

    /// <summary>Sum of voltage step times current step.</summary>
    internal double StepProduct { get; private set; }

    /// <summary>Sum of the magnitudes of voltage step times current step.</summary>
    internal double StepProductSize { get; private set; }

    /// <summary>Sum of current step squared.</summary>
    internal double StepSquare { get; private set; }

    /// <summary>How far the mean cell voltage went while current was positive and steady.</summary>
    internal double DriftWhilePositive { get; private set; }

    /// <summary>How far the mean cell voltage went while current was negative and steady.</summary>
    internal double DriftWhileNegative { get; private set; }

    /// <summary>Rows with a positive current.</summary>
    internal int Positive { get; private set; }

    /// <summary>Rows with a negative current.</summary>
    internal int Negative { get; private set; }

    /// <summary>The total time over all sessions, in seconds.</summary>
    internal double Seconds { get; private set; }

    /// <summary>Goes through the log once.</summary>
    /// <param name="axis">Time.</param>
    /// <param name="map">Sessions.</param>
    /// <param name="voltages">Columns whose mean is followed.</param>
    /// <param name="current">The current column.</param>
    /// <param name="charge">A charge counter, or null.</param>
    internal static Flow Measure(TimeAxis axis, SessionMap map, IReadOnlyList<ColumnRole> voltages, ColumnRole current, ColumnRole? charge)
    {
        var flow = new Flow();
        var states = new State?[map.Count];
        double largest = LargestButOne(current);
        double threshold = 0.02 * largest;

        // Flicker of the last digit is no step, unless there are hardly more digits.
        double digit = 1.01 * Math.Pow(10, -current.Column.MaxDecimals);
        double leastStep = Math.Max(0.1 * largest, largest > 3 * digit ? digit : 0);
        int segment = 0;
        int row = 0;
        int longest = axis.Blocks.Count == 0 ? 0 : axis.Blocks.Max(block => block.Count);
        using var one = new Rows(longest, charge is not null);
        using var other = new Rows(axis.Blocks.Count > 1 ? longest : 0, charge is not null);
        (Rows next, Rows spare) = (one, axis.Blocks.Count > 1 ? other : one);
        Task reading = Task.CompletedTask;
        if (axis.Blocks.Count > 0)
        {
            next.Read(axis, voltages, current, charge, 0);
        }

        for (int b = 0; b < axis.Blocks.Count; b++)
        {
            reading.GetAwaiter().GetResult();
            (Rows rows, next, spare) = (next, spare, next);
            reading = ReadNext(b + 1);
            int count = axis.Blocks[b].Count;
            ReadOnlySpan<double> time = rows.Time.AsSpan(0, count);
            ReadOnlySpan<double> amps = rows.Amps.AsSpan(0, count);
            ReadOnlySpan<double> volts = rows.Volts.AsSpan(0, count);
            ReadOnlySpan<double> counter = charge is null ? [] : rows.Counter.AsSpan(0, count);
            for (int i = 0; i < count;)
            {
                while (row + i >= map.Segments[segment].End)
                {
                    segment++;
                }

                State state = states[map.Segments[segment].Session] ??= new State();
                int end = Math.Min(count, map.Segments[segment].End - row);
                flow.Walk(state, time[i..end], amps[i..end], volts[i..end], counter.IsEmpty ? [] : counter[i..end], largest, threshold, leastStep);
                i = end;
            }

            row += count;
        }

        return flow;

        // The block that follows is restored on another thread meanwhile.
        Task ReadNext(int block)
        {
            Rows into = next;
            return block < axis.Blocks.Count ? Task.Run(() => into.Read(axis, voltages, current, charge, block)) : Task.CompletedTask;
        }
    }

    // One stretch of a session. Sums are kept in locals: rows are many, and each would wait for the sum of the one before to reach memory and come back.
    private void Walk(State state, ReadOnlySpan<double> time, ReadOnlySpan<double> amps, ReadOnlySpan<double> volts, ReadOnlySpan<double> counter, double largest, double threshold, double leastStep)
    {
        (double lastTime, double lastVolts, double lastAmps, double lastCharge) = (state.Time, state.Volts, state.Current, state.Charge);
        double seconds = 0, integral = 0, absolute = 0, counted = 0, counterPath = 0, counterBySign = 0;
        double product = 0, productSize = 0, square = 0, whilePositive = 0, whileNegative = 0;
        int positive = 0;
        int negative = 0;
        double usual = state.Step;
        for (int i = 0; i < time.Length; i++)
        {
            double now = amps[i];
            if (!(Math.Abs(now) <= largest))
            {
                continue;
            }

            positive += now > threshold ? 1 : 0;
            negative += now < -threshold ? 1 : 0;
            double dt = time[i] - lastTime;
            if (dt >= 0)
            {
                double mean = (now + lastAmps) / 2;
                double coulombs = mean * dt;
                seconds += dt;
                integral += coulombs;
                absolute += Math.Abs(coulombs);
                if (!counter.IsEmpty)
                {
                    double step = counter[i] - lastCharge;
                    bool fresh = counter[i] == 0 && Math.Abs(lastCharge) > 0 && Math.Abs(step) > 0;

                    // A logger that pauses under load counts nothing meanwhile, and says nothing of what flowed.
                    bool paused = dt > MostPause * usual;
                    usual = dt > 0 ? dt : usual;
                    if (!double.IsNaN(step) && !fresh && !paused)
                    {
                        double sinceReading = coulombs + state.Unread;
                        counted += Math.Abs(coulombs) + state.UnreadSize;
                        counterPath += Math.Abs(step);
                        counterBySign += sinceReading > 0 ? step : sinceReading < 0 ? -step : 0;
                    }

                    // A counter that is written in some rows only has counted what flowed in the others.
                    bool waits = double.IsNaN(counter[i]) && !double.IsNaN(lastCharge);
                    state.Unread = waits ? state.Unread + coulombs : 0;
                    state.UnreadSize = waits ? state.UnreadSize + Math.Abs(coulombs) : 0;
                }

                double dv = volts[i] - lastVolts;
                double di = now - lastAmps;
                if (!double.IsNaN(dv))
                {
                    if (Math.Abs(di) > leastStep)
                    {
                        product += dv * di;
                        productSize += Math.Abs(dv * di);
                        square += di * di;
                    }
                    else if (now > threshold && lastAmps > threshold)
                    {
                        whilePositive += dv;
                    }
                    else if (now < -threshold && lastAmps < -threshold)
                    {
                        whileNegative += dv;
                    }
                }
            }

            lastTime = time[i];
            lastAmps = now;
            lastVolts = double.IsNaN(volts[i]) ? lastVolts : volts[i];
            lastCharge = counter.IsEmpty || double.IsNaN(counter[i]) ? lastCharge : counter[i];
        }

        state.Step = usual;
        (state.Time, state.Volts, state.Current, state.Charge) = (lastTime, lastVolts, lastAmps, lastCharge);
        Seconds += seconds;
        Integral += integral;
        AbsoluteIntegral += absolute;
        CountedIntegral += counted;
        CounterPath += counterPath;
        CounterBySign += counterBySign;
        StepProduct += product;
        StepProductSize += productSize;
        StepSquare += square;
        DriftWhilePositive += whilePositive;
        DriftWhileNegative += whileNegative;
        Positive += positive;
        Negative += negative;
    }

    /// <summary>One block of what is gone through.</summary>
    private sealed class Rows(int longest, bool counts) : IDisposable
    {
        private readonly RowBuffer _time = new(longest);
        private readonly RowBuffer _amps = new(longest);
        private readonly RowBuffer _volts = new(longest);
        private readonly RowBuffer _counter = new(counts ? longest : 0);
        private readonly RowBuffer _cell = new(longest);

        internal double[] Time => _time.Values;

        internal double[] Amps => _amps.Values;

        internal double[] Volts => _volts.Values;

        internal double[] Counter => _counter.Values;

        public void Dispose()
        {
            foreach (RowBuffer buffer in (ReadOnlySpan<RowBuffer>)[_time, _amps, _volts, _counter, _cell])
            {
                buffer.Dispose();
            }
        }

        internal void Read(TimeAxis axis, IReadOnlyList<ColumnRole> voltages, ColumnRole current, ColumnRole? charge, int block)
        {
            axis.Seconds(block, Time);
            LogColumns.Read(current.Values[block], 1, Amps);
            if (charge is not null)
            {
                LogColumns.Read(charge.Values[block], 1, Counter);
            }

            Span<double> mean = Volts.AsSpan(0, axis.Blocks[block].Count);
            mean.Clear();
            foreach (ColumnRole role in voltages)
            {
                LogColumns.Read(role.Values[block], role.Factor / voltages.Count, _cell.Values);
                RowMath.Add(mean, _cell.Values);
            }
        }
    }

    /// <summary>How far a counter strays, at most, from the integral of a current times a factor, in the counter's unit.</summary>
    /// <param name="axis">Time.</param>
    /// <param name="map">Sessions.</param>
    /// <param name="current">The current column.</param>
    /// <param name="charge">The counter.</param>
    /// <param name="factor">Counter units for one unit of current and second.</param>
    internal static double Stray(TimeAxis axis, SessionMap map, ColumnRole current, ColumnRole charge, double factor)
    {
        var time = new double[map.Count];
        var amps = new double[map.Count];
        var counted = new double[map.Count];
        Array.Fill(time, double.NaN);
        double stray = 0;
        int segment = 0;
        int row = 0;
        for (int b = 0; b < axis.Blocks.Count; b++)
        {
            double[] seconds = axis.Seconds(b);
            double[] now = LogColumns.Values(current, b, 1);
            double[] counter = LogColumns.Values(charge, b, 1);
            for (int i = 0; i < seconds.Length; i++, row++)
            {
                while (row >= map.Segments[segment].End)
                {
                    segment++;
                }

                int s = map.Segments[segment].Session;
                if (double.IsNaN(now[i]) || double.IsNaN(counter[i]))
                {
                    continue;
                }

                if (double.IsNaN(time[s]))
                {
                    counted[s] = counter[i];
                }
                else
                {
                    counted[s] += factor * (now[i] + amps[s]) / 2 * (seconds[i] - time[s]);
                    stray = Math.Max(stray, Math.Abs(counter[i] - counted[s]));
                }

                time[s] = seconds[i];
                amps[s] = now[i];
            }
        }

        return stray;
    }

    /// <summary>
    /// What the cells' answer to steps of the current makes their resistance, in volts for one unit of current, negative where they fall when it steps up;
    /// 0 without a step. Slower than <see cref="Measure"/>, and not led astray by one damaged cell.
    /// </summary>
    /// <param name="axis">Time.</param>
    /// <param name="map">Sessions.</param>
    /// <param name="voltages">Columns whose median is followed.</param>
    /// <param name="current">The current column.</param>
    internal static double Ohms(TimeAxis axis, SessionMap map, IReadOnlyList<ColumnRole> voltages, ColumnRole current)
    {
        double largest = LargestButOne(current);
        double least = 0.1 * largest;
        double product = 0;
        double square = 0;
        var before = new (double Volts, double Current)[map.Count];
        Array.Fill(before, (double.NaN, double.NaN));
        double[] cells = new double[voltages.Count];
        int segment = 0;
        int row = 0;
        for (int b = 0; b < axis.Blocks.Count; b++)
        {
            double[] amps = LogColumns.Values(current, b, 1);
            double[][] volts = [.. voltages.Select(role => LogColumns.Values(role, b, role.Factor))];
            for (int i = 0; i < amps.Length; i++, row++)
            {
                while (row >= map.Segments[segment].End)
                {
                    segment++;
                }

                double now = RowMath.MedianOf(volts, i, cells);
                if (double.IsNaN(now) || !(Math.Abs(amps[i]) <= largest))
                {
                    continue;
                }

                // No cell steps by half a volt and lives: such a step is damage.
                ref (double Volts, double Current) last = ref before[map.Segments[segment].Session];
                double step = amps[i] - last.Current;
                if (Math.Abs(step) > least && Math.Abs(now - last.Volts) < 0.5)
                {
                    product += (now - last.Volts) * step;
                    square += step * step;
                }

                last = (now, amps[i]);
            }
        }

        return square > 0 ? product / square : 0;
    }

    /// <summary>
    /// The largest current of a column, in its unit; without one row's that is more than three times all others'. A single damaged number
    /// outweighs the whole log wherever products are summed, and must not say which way the current flows.
    /// </summary>
    private static double LargestButOne(ColumnRole current)
    {
        const int Enough = 5;
        double largest = current.Profile!.LargestMagnitude;
        Span<double> most = stackalloc double[Enough + 1];
        most.Clear();
        double[] amps = new double[current.Values.Count == 0 ? 0 : current.Values.Max(block => block.Count)];
        foreach (SampleBlock block in current.Values)
        {
            LogColumns.Read(block, 1, amps);
            foreach (double value in amps.AsSpan(0, block.Count))
            {
                double size = Math.Abs(value);
                if (size > most[^1])
                {
                    int at = most.Length - 1;
                    for (; at > 0 && most[at - 1] < size; at--)
                    {
                        most[at] = most[at - 1];
                    }

                    most[at] = size;
                    if (most[1] * 3 >= largest)
                    {
                        return largest;
                    }
                }
            }
        }

        // With hardly any other row of its size there is nothing to hold it against.
        return most[^1] > most[1] / 2 ? most[1] : largest;
    }
}
