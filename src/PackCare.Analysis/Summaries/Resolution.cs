namespace PackCare.Analysis.Summaries;

/// <summary>Finds the step of a logged channel.</summary>
internal static class Resolution
{
    private const int MostDigits = 6;

    /// <summary>The smallest change between neighbouring readings that is not none, in the channel's unit; 0 where nothing changes.</summary>
    public static double Of(double[] values)
    {
        double smallest = double.PositiveInfinity;
        for (int i = 1; i < values.Length; i++)
        {
            double step = Math.Abs(values[i] - values[i - 1]);
            // Below a microunit it is the rounding of binary fractions, not a step of the instrument.
            if (step > 1e-6 && step < smallest)
            {
                smallest = step;
            }
        }

        return double.IsFinite(smallest) ? Math.Round(smallest, 6) : 0;
    }

    /// <summary>One unit of the last digit in use, in the channel's unit; for a channel that is steady for long stretches and then jumps.</summary>
    public static double OfLastDigit(double[] values)
    {
        double unit = 1;
        for (int digits = 0; digits < MostDigits; digits++, unit /= 10)
        {
            double step = unit;
            if (values.All(value => !double.IsFinite(value) || Math.Abs((value / step) - Math.Round(value / step)) < 1e-6))
            {
                return unit;
            }
        }

        return unit;
    }
}
