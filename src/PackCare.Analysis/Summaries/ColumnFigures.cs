using System.Runtime.CompilerServices;

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

        // Compiled for the machine at hand straight away: a call walks through a whole page.
        [MethodImpl(MethodImplOptions.AggressiveOptimization)]
        public void Through(ReadOnlySpan<double> page)
        {
            (double before, double last, double min, double max, double smallest) = (_before, Last, Min, Max, Step);
            int present = 0;
            foreach (double value in page)
            {
                double step = Math.Abs(value - before);
                if (step < smallest && step > Resolution.LeastStep)
                {
                    smallest = step;
                }

                before = value;
                if (double.IsNaN(value))
                {
                    continue;
                }

                if (present++ == 0 && Present == 0)
                {
                    First = value;
                }

                last = value;
                min = value < min ? value : min;
                max = value > max ? value : max;
            }

            (_before, Last, Min, Max, Step) = (before, last, min, max, smallest);
            Present += present;
        }
    }
}
