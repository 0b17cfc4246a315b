using PackCare.Core.Estimates;

namespace PackCare.Analysis.Imbalance;

/// <summary>How a comparison of cells came out now and shortly before, so that what was found is not dropped by the next reading.</summary>
/// <param name="Percent">The figure now.</param>
/// <param name="Needed">What it must exceed to differ from none at the 1 % level for the pack as a whole.</param>
internal readonly record struct Hold(Estimate Percent, double Needed)
{
    /// <summary>How many of the latest readings may be left out, one after the other, to see what was found before them. The walk back ends much
    /// sooner unless the figure hovers all the while between its release and its limit.</summary>
    public const int LooksBack = 120;

    private const double ReleaseEvidence = 0.7;
    private const double ReleaseLimit = 0.8;

    /// <summary>
    /// Whether it stands against a limit: significant and past it, or once so without the latest readings and since then neither below 0.7
    /// of the evidence nor below 0.8 of the limit.
    /// </summary>
    /// <param name="now">The figure now.</param>
    /// <param name="before">The figures without the latest reading, the latest two and so on.</param>
    /// <param name="limit">The limit, in percent.</param>
    public static bool Stands(Hold now, IEnumerable<Hold> before, double limit)
    {
        foreach (Hold one in before.Prepend(now))
        {
            if (one.Percent.Value > one.Needed && one.Percent.Value >= limit)
            {
                return true;
            }

            if (one.Percent.Value <= ReleaseEvidence * one.Needed || one.Percent.Value < ReleaseLimit * limit)
            {
                return false;
            }
        }

        return false;
    }
}
