using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace PackCare.Analysis.Summaries;

/// <summary>Figures of a channel over a session, in the channel's unit; NaN where there was no reading at all.</summary>
/// <param name="Present">How many readings there were.</param>
/// <param name="First">The first reading.</param>
/// <param name="Last">The last reading.</param>
/// <param name="Min">The lowest reading.</param>
/// <param name="Max">The highest reading.</param>
/// <param name="Step">The smallest change between neighbouring readings that is not none; 0 where nothing changes.</param>
internal sealed record ColumnFigures(int Present, double First, double Last, double Min, double Max, double Step)
{
    /// <summary>The largest reading either way; 0 without readings.</summary>
    public double Peak => Present == 0 ? 0 : Math.Max(Math.Abs(Min), Math.Abs(Max));

    /// <summary>Walks through a column.</summary>
    public static ColumnFigures Of(SampleColumn column)
    {
        var walk = new Walk();
        for (int page = 0; page < column.Pages; page++)
        {
            walk.Through(column.Page(page));
        }

        return walk.Present == 0
            ? new ColumnFigures(0, double.NaN, double.NaN, double.NaN, double.NaN, 0)
            : new ColumnFigures(walk.Present, walk.First, walk.Last, walk.Min, walk.Max, Resolution.Rounded(walk.Step));
    }

    private sealed class Walk
    {
        private double _before = double.NaN;

        public int Present { get; private set; }

        public double First { get; private set; } = double.NaN;

        public double Last { get; private set; } = double.NaN;

        public double Min { get; private set; } = double.PositiveInfinity;

        public double Max { get; private set; } = double.NegativeInfinity;

        public double Step { get; private set; } = double.PositiveInfinity;

        public void Through(ReadOnlySpan<double> page)
        {
            if (page.IsEmpty)
            {
                return;
            }

            ref double start = ref MemoryMarshal.GetReference(page);
            Vector256<double> infinity = Vector256.Create(double.PositiveInfinity);
            Vector256<double> leastStep = Vector256.Create(Resolution.LeastStep);
            Vector256<double> steps = infinity;
            Vector256<double> lows = infinity;
            Vector256<double> highs = -infinity;
            Vector256<long> missing = Vector256<long>.Zero;
            Take(page[0], _before);
            int i = 1;
            for (; i + 4 <= page.Length; i += 4)
            {
                Vector256<double> values = Vector256.LoadUnsafe(ref start, (nuint)i);
                // A reading that is not there is equal to nothing, not even to itself, and makes no step.
                Vector256<double> there = Vector256.Equals(values, values);
                Vector256<double> step = Vector256.Abs(values - Vector256.LoadUnsafe(ref start, (nuint)(i - 1)));
                steps = Vector256.MinNative(steps, Vector256.ConditionalSelect(Vector256.GreaterThan(step, leastStep), step, infinity));
                lows = Vector256.MinNative(lows, Vector256.ConditionalSelect(there, values, infinity));
                highs = Vector256.MaxNative(highs, Vector256.ConditionalSelect(there, values, -infinity));
                missing += there.AsInt64() + Vector256<long>.One;
            }

            int absent = (int)Vector256.Sum(missing);
            Present += i - 1 - absent;
            for (int k = 0; k < 4; k++)
            {
                Step = Math.Min(Step, steps[k]);
                Min = Math.Min(Min, lows[k]);
                Max = Math.Max(Max, highs[k]);
            }

            for (; i < page.Length; i++)
            {
                Take(page[i], page[i - 1]);
            }

            int first = page.IndexOfAnyExcept(double.NaN);
            if (first >= 0)
            {
                First = double.IsNaN(First) ? page[first] : First;
                Last = page[page.LastIndexOfAnyExcept(double.NaN)];
            }

            _before = page[^1];
        }

        private void Take(double value, double before)
        {
            if (double.IsNaN(value))
            {
                return;
            }

            double step = Math.Abs(value - before);
            Step = step > Resolution.LeastStep ? Math.Min(Step, step) : Step;
            Min = Math.Min(Min, value);
            Max = Math.Max(Max, value);
            Present++;
        }
    }
}
