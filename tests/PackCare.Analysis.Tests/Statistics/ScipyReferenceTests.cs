using PackCare.Analysis.Statistics;
using PackCare.Analysis.Trends;

namespace PackCare.Analysis.Tests.Statistics;

/// <summary>Values computed by SciPy 1.10.1 with scripts/reference/trend_reference.py; its printed output is kept here.</summary>
public sealed class ScipyReferenceTests
{
    private static readonly double[] Days = [0, 7, 16, 30, 30, 47, 61, 80, 95, 130];
    private static readonly double[] Milliohms = [4.10, 4.14, 4.09, 4.22, 4.19, 4.31, 5.20, 4.44, 4.52, 4.70];

    [Fact]
    public void Theil_Sen_slope() =>
        Assert.Equal(0.00474939759036145, TheilSen.Slope(Days, Milliohms), 1e-15);

    [Fact]
    public void Line_with_standard_errors()
    {
        var design = new double[Days.Length, 2];
        for (int i = 0; i < Days.Length; i++)
        {
            design[i, 0] = 1;
            design[i, 1] = Days[i];
        }

        LinearFit fit = LinearModel.Fit(design, Milliohms)!;

        Assert.Equal(0.00534026297085999, fit.Parameters[1], 1e-14);
        Assert.Equal(4.12612295664534, fit.Parameters[0], 1e-13);
        Assert.Equal(0.00224270866431567, fit.StandardError(1), 1e-14);
        Assert.Equal(0.14247820650715, fit.StandardError(0), 1e-13);
    }

    [Theory]
    [InlineData(1, 12.7062047364321, 63.656741162874)]
    [InlineData(2, 4.30265272991127, 9.92484320091807)]
    [InlineData(3, 3.18244630528426, 5.84090929975643)]
    [InlineData(5, 2.57058183661474, 4.03214298355754)]
    [InlineData(8, 2.30600413503337, 3.3553873313334)]
    [InlineData(13, 2.16036865646101, 3.01227583820718)]
    [InlineData(30, 2.04227245630124, 2.74999565356703)]
    [InlineData(120, 1.97993040505278, 2.617421144765)]
    public void Quantiles_of_Students_t(int degreesOfFreedom, double at95, double at99)
    {
        Assert.Equal(at95, StudentTable.TwoSided(0.95, degreesOfFreedom), 1e-7);
        Assert.Equal(at99, StudentTable.TwoSided(0.99, degreesOfFreedom), 1e-7);
    }

    [Fact]
    public void An_outlier_is_kept_but_counts_less_so_that_the_line_comes_near_the_robust_slope()
    {
        RobustLine line = RobustLine.Fit(Days, Milliohms, [.. Days.Select(_ => 0.05)], TrendLine.Huber)!;

        Assert.Equal(6, line.Shares.Index().MinBy(item => item.Item).Index);
        Assert.InRange(line.Shares[6], 0.01, 0.5);
        Assert.InRange(Math.Abs(line.Slope - 0.00474939759036145), 0, 0.0003);
    }
}
