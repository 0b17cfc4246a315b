using System.Buffers;

namespace PackCare.Analysis.Summaries;

/// <summary>Charge and energy by the trapezoid rule, in and out apart.</summary>
/// <param name="InAh">Charge in, in ampere hours.</param>
/// <param name="OutAh">Charge out, in ampere hours.</param>
/// <param name="InWh">Energy in, in watt hours; null without voltage.</param>
/// <param name="OutWh">Energy out, in watt hours; null without voltage.</param>
/// <param name="RunningAh">Net charge since the start at every sample, in ampere hours.</param>
internal sealed record ChargeCount(double InAh, double OutAh, double? InWh, double? OutWh, SampleColumn RunningAh) : IDisposable
{
    private const double SecondsPerHour = 3600;

    /// <summary>Counts a session; null where neither current nor a charge counter was logged.</summary>
    public static ChargeCount? Of(SessionSamples session) =>
        session.Current is not null ? FromCurrent(session, session.Current)
        : session.ChargeCounter is not null ? FromCounter(session, session.ChargeCounter)
        : null;

    /// <inheritdoc/>
    public void Dispose() => RunningAh.Dispose();

    private static ChargeCount FromCurrent(SessionSamples session, SampleColumn current)
    {
        SampleColumn? volts = session.PackVolts ?? (session.Cells.Count == 0 ? null : session.CellSum);
        var charge = new SignedSum();
        var energy = new SignedSum();
        var marks = new Mark[current.Pages];
        Mark mark = Mark.Start;
        double[] counted = ArrayPool<double>.Shared.Rent(Math.Min(session.Count, SampleColumn.PageRows));
        for (int page = 0; page < marks.Length; page++)
        {
            marks[page] = mark;
            mark = Walk(session, current, volts, page, mark, counted, charge, energy);
        }

        // A page is counted again when it is asked for, but for the last.
        var running = new SampleColumn(session.Count, (page, into) => Walk(session, current, null, page, marks[page], into, null, null));
        if (marks.Length > 0)
        {
            running.Hold(marks.Length - 1, counted);
        }

        return new ChargeCount(charge.In, charge.Out, volts is null ? null : energy.In, volts is null ? null : energy.Out, running);
    }

    /// <summary>Where the count stands before a page, and the last sample with a reading before it.</summary>
    private readonly record struct Mark(double Running, double Seconds, double Amperes, double Volts)
    {
        public static readonly Mark Start = new(0, double.NaN, double.NaN, double.NaN);
    }

    // Counts one page on from its mark.
    private static Mark Walk(SessionSamples session, SampleColumn current, SampleColumn? volts, int page, Mark mark, double[] into, SignedSum? charge, SignedSum? energy)
    {
        ReadOnlySpan<double> amperes = current.Page(page);
        ReadOnlySpan<double> times = session.Time.Page(page);
        ReadOnlySpan<double> levels = volts is null ? default : volts.Page(page);
        double usual = Math.Max(60, 10 * (session.IntervalSeconds ?? 0));
        double rest = session.RestAmperes;
        (double running, double lastTime, double last, double lastLevel) = mark;
        for (int i = 0; i < amperes.Length; i++)
        {
            double now = amperes[i];
            if (!double.IsNaN(now))
            {
                double level = volts is null ? double.NaN : levels[i];
                double seconds = times[i] - lastTime;
                // Across a hole in the log the trapezoid is a guess; it is only made where the current is the same on both sides.
                if (seconds > 0 && (seconds <= usual || Math.Abs(now - last) <= Math.Max(rest, 0.05 * Math.Abs(now))))
                {
                    double hours = seconds / SecondsPerHour;
                    running += (last + now) / 2 * hours;
                    charge?.Add(last, now, hours);
                    if (energy is not null && double.IsFinite(level * lastLevel))
                    {
                        energy.Add(last * lastLevel, now * level, hours);
                    }
                }

                (lastTime, last, lastLevel) = (times[i], now, level);
            }

            into[i] = running;
        }

        return new Mark(running, lastTime, last, lastLevel);
    }

    private static ChargeCount FromCounter(SessionSamples session, SampleColumn counter)
    {
        double inAh = 0;
        double outAh = 0;
        double start = counter.Figures.Present == 0 ? 0 : counter.Figures.First;
        double last = start;
        var before = new double[counter.Pages];
        for (int page = 0; page < before.Length; page++)
        {
            before[page] = last - start;
            foreach (double value in counter.Page(page))
            {
                if (!double.IsNaN(value))
                {
                    inAh += Math.Max(value - last, 0);
                    outAh += Math.Max(last - value, 0);
                    last = value;
                }
            }
        }

        var column = new SampleColumn(session.Count, (page, into) =>
        {
            ReadOnlySpan<double> values = counter.Page(page);
            double standing = before[page];
            for (int i = 0; i < values.Length; i++)
            {
                standing = double.IsNaN(values[i]) ? standing : values[i] - start;
                into[i] = standing;
            }
        });
        return new ChargeCount(inAh, outAh, null, null, column);
    }

    private sealed class SignedSum
    {
        public double In { get; private set; }

        public double Out { get; private set; }

        // Where the sign turns within the interval, the two triangles are counted apart.
        public void Add(double from, double to, double hours)
        {
            if (from * to < 0)
            {
                double crossing = from / (from - to);
                Put(from / 2 * crossing * hours);
                Put(to / 2 * (1 - crossing) * hours);
            }
            else
            {
                Put((from + to) / 2 * hours);
            }
        }

        private void Put(double area)
        {
            In += Math.Max(area, 0);
            Out += Math.Max(-area, 0);
        }
    }
}
