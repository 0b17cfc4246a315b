using System.Collections.Concurrent;
using MathNet.Numerics.Distributions;

namespace PackCare.Analysis.Statistics;

/// <summary>Two-sided quantiles of Student's t.</summary>
internal static class StudentTable
{
    private static readonly ConcurrentDictionary<(double Confidence, int Freedom), double> Cache = new();

    /// <summary>The t for which P(|T| &lt;= t) is the confidence.</summary>
    /// <param name="confidence">Between 0 and 1.</param>
    /// <param name="degreesOfFreedom">1 or more; from 1,000 on the normal quantile is used, the difference being under 0.1 %.</param>
    public static double TwoSided(double confidence, int degreesOfFreedom) =>
        Cache.GetOrAdd((confidence, Math.Min(degreesOfFreedom, 1000)), key => Compute(key.Confidence, key.Freedom));

    private static double Compute(double confidence, int freedom)
    {
        double upper = 1 - ((1 - confidence) / 2);
        return freedom switch
        {
            // The library's inverse is only trustworthy from 2 on; for 1 the distribution is Cauchy's, with a closed form.
            <= 1 => Math.Tan(Math.PI * (upper - 0.5)),
            >= 1000 => Normal.InvCDF(0, 1, upper),
            _ => StudentT.InvCDF(0, 1, freedom, upper),
        };
    }
}
