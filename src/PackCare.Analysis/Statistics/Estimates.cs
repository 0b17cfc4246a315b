using PackCare.Core.Estimates;

namespace PackCare.Analysis.Statistics;

/// <summary>Makes and combines estimates.</summary>
internal static class Estimates
{
    /// <summary>The confidence used throughout.</summary>
    public const double Confidence = 0.95;

    /// <summary>An estimate whose standard error rests on the given degrees of freedom.</summary>
    public static Estimate FromT(double value, double standardError, int degreesOfFreedom, int count)
    {
        double half = StudentTable.TwoSided(Confidence, degreesOfFreedom) * standardError;
        return new Estimate(value, standardError, value - half, value + half, Confidence, count);
    }

    /// <summary>An estimate whose standard error is taken as known (from resolution, noise and stated assumptions).</summary>
    public static Estimate FromNormal(double value, double standardError, int count) => FromT(value, standardError, int.MaxValue, count);

    /// <summary>The estimate times a constant.</summary>
    public static Estimate Scale(Estimate estimate, double factor)
    {
        double a = estimate.Low * factor;
        double b = estimate.High * factor;
        return new Estimate(estimate.Value * factor, estimate.StandardError * Math.Abs(factor), Math.Min(a, b), Math.Max(a, b), estimate.Confidence, estimate.Count);
    }

    /// <summary>
    /// Mean weighted by 1/SE^2. Its standard error is the formal one, or that of the scatter where that is larger
    /// (the scale factor of the Particle Data Group's reviews), with Student's t for the scatter.
    /// </summary>
    public static Estimate WeightedMean(IReadOnlyList<Estimate> estimates)
    {
        double weights = estimates.Sum(e => Weight(e));
        double mean = estimates.Sum(e => Weight(e) * e.Value) / weights;
        double formal = 1 / Math.Sqrt(weights);
        if (estimates.Count < 2)
        {
            return FromNormal(mean, formal, estimates.Count);
        }

        double chiSquare = estimates.Sum(e => Weight(e) * (e.Value - mean) * (e.Value - mean));
        double scale = Math.Sqrt(chiSquare / (estimates.Count - 1));
        return scale > 1 ? FromT(mean, formal * scale, estimates.Count - 1, estimates.Count) : FromNormal(mean, formal, estimates.Count);
    }

    /// <summary>
    /// Mean weighted by 1/SE^2 of few estimates whose errors are stated on good grounds: how well they agree counts together with the
    /// stated errors, those as a number of degrees of freedom (a scaled inverse chi-square prior). Where they disagree badly, the scatter alone counts.
    /// </summary>
    public static Estimate MeanOfFew(IReadOnlyList<Estimate> estimates, int statedFreedom = 6)
    {
        Estimate plain = WeightedMean(estimates);
        if (estimates.Count < 2)
        {
            return plain;
        }

        double formal = Math.Pow(estimates.Sum(Weight), -0.5);
        int seenFreedom = estimates.Count - 1;
        double seen = estimates.Sum(e => Weight(e) * Square(e.Value - plain.Value)) / seenFreedom;
        return seen > 2.5
            ? plain
            : FromT(plain.Value, formal * Math.Sqrt((statedFreedom + (seenFreedom * seen)) / (statedFreedom + seenFreedom)), statedFreedom + seenFreedom, estimates.Count);
    }

    /// <summary>Quotient of two independent estimates, error by the delta method.</summary>
    public static Estimate Ratio(Estimate over, Estimate under)
    {
        double ratio = over.Value / under.Value;
        double relative = Math.Sqrt(Square(over.StandardError / over.Value) + Square(under.StandardError / under.Value));
        // The wider of the two t factors, so that a ratio of few observations is not taken for certain.
        double factor = Math.Max(Factor(over), Factor(under));
        double error = Math.Abs(ratio) * relative;
        return new Estimate(ratio, error, ratio - (factor * error), ratio + (factor * error), Confidence, Math.Min(over.Count, under.Count));
    }

    /// <summary>The estimate with a further, independent standard error that no number of observations makes smaller.</summary>
    public static Estimate Widen(Estimate estimate, double standardError)
    {
        double error = Math.Sqrt((estimate.StandardError * estimate.StandardError) + (standardError * standardError));
        double half = Math.Sqrt(Math.Pow(Factor(estimate) * estimate.StandardError, 2) + Math.Pow(StudentTable.TwoSided(Confidence, int.MaxValue) * standardError, 2));
        return estimate with { StandardError = error, Low = estimate.Value - half, High = estimate.Value + half };
    }

    /// <summary>How many standard errors the interval reaches up from the value.</summary>
    public static double Factor(Estimate estimate) =>
        estimate.StandardError > 0 ? (estimate.High - estimate.Value) / estimate.StandardError : StudentTable.TwoSided(Confidence, int.MaxValue);

    private static double Weight(Estimate estimate) => 1 / Square(Math.Max(estimate.StandardError, 1e-12));

    private static double Square(double value) => value * value;
}
