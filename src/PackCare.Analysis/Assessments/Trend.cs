using PackCare.Core.Estimates;

namespace PackCare.Analysis.Assessments;

/// <summary>How a figure changes: a fitted line, or too little data for one.</summary>
public abstract record Trend
{
    private Trend()
    {
    }

    /// <summary>A line fitted by weighted least squares.</summary>
    /// <param name="Origin">The moment at which x is 0.</param>
    /// <param name="Intercept">The figure at the origin, in its unit.</param>
    /// <param name="SlopePerDay">Change a day, in its unit a day.</param>
    /// <param name="InterceptSlopeCovariance">Covariance of intercept and slope, for the band.</param>
    /// <param name="ResidualDegreesOfFreedom">Observations less parameters.</param>
    /// <param name="RobustSlopePerDay">The Theil-Sen slope of the same points, as a check.</param>
    /// <param name="Knee">Where the figure began to change otherwise than before; the line is then that of the time since. Null without such a bend.</param>
    public sealed record Fitted(
        DateTimeOffset Origin,
        Estimate Intercept,
        Estimate SlopePerDay,
        double InterceptSlopeCovariance,
        int ResidualDegreesOfFreedom,
        double RobustSlopePerDay,
        DateTimeOffset? Knee = null) : Trend;

    /// <summary>Not enough to fit.</summary>
    /// <param name="Have">Observations there are.</param>
    /// <param name="Need">Observations it takes.</param>
    /// <param name="Reason">What is missing, in plain words.</param>
    public sealed record TooLittleData(int Have, int Need, string Reason) : Trend;
}
