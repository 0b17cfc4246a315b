namespace PackCare.Analysis.Summaries;

/// <summary>Finds the step of a logged channel.</summary>
internal static class Resolution
{
    private const int MostDigits = 6;

    /// <summary>Below a microunit it is the rounding of binary fractions, not a step of the instrument.</summary>
    public const double LeastStep = 1e-6;

    /// <summary>The smallest change between neighbouring readings, freed of the rounding of binary fractions; 0 for none.</summary>
    public static double Rounded(double smallest) => double.IsFinite(smallest) ? Math.Round(smallest, MostDigits) : 0;

    /// <summary>One unit of the last digit in use, in the channel's unit; for a channel that is steady for long stretches and then jumps.</summary>
    public static double OfLastDigit(SampleColumn values)
    {
        double unit = 1;
        for (int digits = 0; digits < MostDigits && !AreMultiples(values, unit); digits++)
        {
            unit /= 10;
        }

        return unit;
    }

    private static bool AreMultiples(SampleColumn values, double unit)
    {
        for (int page = 0; page < values.Pages; page++)
        {
            foreach (double value in values.Page(page))
            {
                double times = value / unit;
                if (Math.Abs(times - Math.Round(times)) >= 1e-6)
                {
                    return false;
                }
            }
        }

        return true;
    }
}
