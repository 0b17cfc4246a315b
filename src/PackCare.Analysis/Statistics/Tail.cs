using PackCare.Core.Estimates;

namespace PackCare.Analysis.Statistics;

/// <summary>Finds since when a figure is what it is now.</summary>
internal static class Tail
{
    private const double Apart = 3.5;
    private const int Fewest = 3;

    /// <summary>
    /// How many of the latest estimates agree with one another: walking back from the newest, the walk ends at two in a row
    /// that stand apart from the mean of those after them. At least three are kept, for want of anything to tell one outlier by.
    /// </summary>
    /// <param name="estimates">In order of time.</param>
    public static int Agreeing(IReadOnlyList<Estimate> estimates)
    {
        int kept = Math.Min(Fewest, estimates.Count);
        for (int i = estimates.Count - kept - 1; i >= 0; i--)
        {
            Estimate mean = Estimates.WeightedMean([.. estimates.Skip(i + 1)]);
            if (StandsApart(estimates[i], mean) && (i == 0 || StandsApart(estimates[i - 1], mean)))
            {
                break;
            }

            kept = estimates.Count - i;
        }

        return kept;
    }

    private static bool StandsApart(Estimate one, Estimate mean) =>
        Math.Abs(one.Value - mean.Value) > Apart * Math.Sqrt((one.StandardError * one.StandardError) + (mean.StandardError * mean.StandardError));
}
