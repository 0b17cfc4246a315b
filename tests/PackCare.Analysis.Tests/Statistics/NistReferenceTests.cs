using CsCheck;
using PackCare.Analysis.Statistics;

namespace PackCare.Analysis.Tests.Statistics;

/// <summary>
/// Certified values of the NIST Statistical Reference Datasets, linear regression
/// (https://www.itl.nist.gov/div898/strd/lls/lls.shtml): estimates, their standard deviations, residual standard deviation.
/// </summary>
public sealed class NistReferenceTests
{
    private static readonly double[] NorrisX = [0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5];
    private static readonly double[] NorrisY = [0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2];

    [Fact]
    public void Norris_a_straight_line()
    {
        LinearFit fit = Fit(NorrisX.Length, 2, (i, j) => j == 0 ? 1 : NorrisX[i], NorrisY);

        Certified(fit, [-0.262323073774029, 1.00211681802045], [0.232818234301152, 0.429796848199937E-03], 0.884796396144373, 1e-11);
    }

    [Fact]
    public void NoInt1_a_line_through_the_origin()
    {
        double[] y = [.. Enumerable.Range(130, 11).Select(value => (double)value)];

        LinearFit fit = Fit(11, 1, (i, _) => 60 + i, y);

        Certified(fit, [2.07438016528926], [0.165289256198347E-01], 3.56753034006338, 1e-12);
    }

    [Fact]
    public void Longley_six_nearly_collinear_predictors()
    {
        double[,] x =
        {
            { 1, 83.0, 234289, 2356, 1590, 107608, 1947 }, { 1, 88.5, 259426, 2325, 1456, 108632, 1948 },
            { 1, 88.2, 258054, 3682, 1616, 109773, 1949 }, { 1, 89.5, 284599, 3351, 1650, 110929, 1950 },
            { 1, 96.2, 328975, 2099, 3099, 112075, 1951 }, { 1, 98.1, 346999, 1932, 3594, 113270, 1952 },
            { 1, 99.0, 365385, 1870, 3547, 115094, 1953 }, { 1, 100.0, 363112, 3578, 3350, 116219, 1954 },
            { 1, 101.2, 397469, 2904, 3048, 117388, 1955 }, { 1, 104.6, 419180, 2822, 2857, 118734, 1956 },
            { 1, 108.4, 442769, 2936, 2798, 120445, 1957 }, { 1, 110.8, 444546, 4681, 2637, 121950, 1958 },
            { 1, 112.6, 482704, 3813, 2552, 123366, 1959 }, { 1, 114.2, 502601, 3931, 2514, 125368, 1960 },
            { 1, 115.7, 518173, 4806, 2572, 127852, 1961 }, { 1, 116.9, 554894, 4007, 2827, 130081, 1962 },
        };
        double[] y = [60323, 61122, 60171, 61187, 63221, 63639, 64989, 63761, 66019, 67857, 68169, 66513, 68655, 69564, 69331, 70551];

        LinearFit fit = LinearModel.Fit(x, y)!;

        Certified(
            fit,
            [-3482258.63459582, 15.0618722713733, -0.358191792925910E-01, -2.02022980381683, -1.03322686717359, -0.511041056535807E-01, 1829.15146461355],
            [890420.383607373, 84.9149257747669, 0.334910077722432E-01, 0.488399681651699, 0.214274163161675, 0.226073200069370, 455.478499142212],
            304.854073561965,
            1e-8);
    }

    [Fact]
    public void Wampler1_a_polynomial_of_fifth_degree_without_error()
    {
        double[] y = [1, 6, 63, 364, 1365, 3906, 9331, 19608, 37449, 66430, 111111, 177156, 271453, 402234, 579195, 813616, 1118481, 1508598, 2000719, 2613660, 3368421];

        LinearFit fit = Fit(21, 6, (i, j) => Math.Pow(i, j), y);

        Assert.All(fit.Parameters, value => Assert.Equal(1, value, 1e-7));
        Assert.True(fit.ResidualStandardDeviation < 1e-7);
    }

    [Fact]
    public void Wampler3_the_same_with_errors()
    {
        double[] y = [760, -2042, 2111, -1684, 3888, 1858, 11379, 17560, 39287, 64382, 113159, 175108, 273291, 400186, 581243, 811568, 1121004, 1506550, 2002767, 2611612, 3369180];

        LinearFit fit = Fit(21, 6, (i, j) => Math.Pow(i, j), y);

        Certified(
            fit,
            [1, 1, 1, 1, 1, 1],
            [2152.32624678170, 2363.55173469681, 779.343524331583, 101.475507550350, 5.64566512170752, 0.112324854679312],
            2360.14502379268,
            1e-7);
    }

    // Coefficients 1, 0.1, 0.01 and so on, observations printed to five decimals, certified standard errors of 0.
    [Fact]
    public void Wampler2_a_polynomial_whose_terms_grow_alike()
    {
        double[] y = [1.00000, 1.11111, 1.24992, 1.42753, 1.65984, 1.96875, 2.38336, 2.94117, 3.68928, 4.68559, 6.00000, 7.71561, 9.92992, 12.75603, 16.32384, 20.78125, 26.29536, 33.05367, 41.26528, 51.16209, 63.00000];

        LinearFit fit = Fit(21, 6, (i, j) => Math.Pow(i, j), y);

        for (int j = 0; j < 6; j++)
        {
            Assert.Equal(Math.Pow(10, -j), fit.Parameters[j], 1e-10);
        }

        Assert.True(fit.ResidualStandardDeviation < 1e-10);
    }

    // The errors of Wampler3 a hundred and ten thousand times as large (75901 and -204794, 7590001 and -20479994 lead the published data).
    [Theory]
    [InlineData(100, 75901, -204794, 215232.624678170, 236355.173469681, 77934.3524331583, 10147.5507550350, 564.566512170752, 11.2324854679312, 236014.502379268)]
    [InlineData(10000, 7590001, -20479994, 21523262.4678170, 23635517.3469681, 7793435.24331583, 1014755.07550350, 56456.6512170752, 1123.24854679312, 23601450.2379268)]
    public void Wampler4_and_Wampler5_with_larger_errors(double times, double first, double second, double se0, double se1, double se2, double se3, double se4, double se5, double residual)
    {
        double[] wampler1 = [1, 6, 63, 364, 1365, 3906, 9331, 19608, 37449, 66430, 111111, 177156, 271453, 402234, 579195, 813616, 1118481, 1508598, 2000719, 2613660, 3368421];
        double[] wampler3 = [760, -2042, 2111, -1684, 3888, 1858, 11379, 17560, 39287, 64382, 113159, 175108, 273291, 400186, 581243, 811568, 1121004, 1506550, 2002767, 2611612, 3369180];
        double[] y = [.. wampler1.Zip(wampler3, (exact, with) => exact + (times * (with - exact)))];

        LinearFit fit = Fit(21, 6, (i, j) => Math.Pow(i, j), y);

        Assert.Equal([first, second], y[..2]);
        double[] errors = [se0, se1, se2, se3, se4, se5];
        for (int j = 0; j < 6; j++)
        {
            // Of estimates that are a ten-thousandth of their errors only so many digits can be left.
            Assert.Equal(1, fit.Parameters[j], 1e-10 * errors[j]);
            Assert.Equal(errors[j], fit.StandardError(j), errors[j] * 1e-7);
        }

        Assert.Equal(residual, fit.ResidualStandardDeviation, residual * 1e-7);
    }

    // The closed form of the straight line, which trends are fitted by, against the certified values too.
    [Fact]
    public void Norris_by_the_closed_form()
    {
        WeightedLine line = WeightedLine.Fit(NorrisX, NorrisY, [.. NorrisX.Select(_ => 1.0)])!.Value;
        double variance = line.WeightedSquares / (NorrisX.Length - 2);

        Assert.Equal(-0.262323073774029, line.Intercept, 1e-11);
        Assert.Equal(1.00211681802045, line.Slope, 1e-13);
        Assert.Equal(0.232818234301152, Math.Sqrt(variance * line.InterceptUnscaled), 1e-11);
        Assert.Equal(0.000429796848199937, Math.Sqrt(variance * line.SlopeUnscaled), 1e-14);
        Assert.Equal(0.884796396144373, Math.Sqrt(variance), 1e-11);
    }

    [Fact]
    public void The_closed_form_is_the_general_model_of_two_columns() =>
        Gen.Select(Gen.Double[-1000, 1000], Gen.Double[-10, 10], Gen.Double[0.01, 100]).Array[3, 60].Sample(rows =>
        {
            double[] x = [.. rows.Select(row => row.Item1)];
            double[] y = [.. rows.Select(row => row.Item2)];
            double[] w = [.. rows.Select(row => row.Item3)];
            var design = new double[rows.Length, 2];
            for (int i = 0; i < rows.Length; i++)
            {
                (design[i, 0], design[i, 1]) = (1, x[i]);
            }

            if (x.Max() - x.Min() < 1)
            {
                return true;
            }

            LinearFit general = LinearModel.Fit(design, y, w)!;
            WeightedLine line = WeightedLine.Fit(x, y, w)!.Value;
            return Near(general.Parameters[0], line.Intercept) && Near(general.Parameters[1], line.Slope) && Near(general.WeightedSquares, line.WeightedSquares)
                && Near(general.UnscaledCovariance[0, 0], line.InterceptUnscaled) && Near(general.UnscaledCovariance[1, 1], line.SlopeUnscaled) && Near(general.UnscaledCovariance[0, 1], line.CrossUnscaled);

            static bool Near(double a, double b) => Math.Abs(a - b) <= 1e-7 * Math.Max(1e-3, Math.Max(Math.Abs(a), Math.Abs(b)));
        });

    [Fact]
    public void Equal_weights_change_nothing_and_a_doubled_weight_counts_an_observation_twice()
    {
        double[] y = [1, 3, 2, 5];
        double[,] once = { { 1, 0 }, { 1, 1 }, { 1, 2 }, { 1, 3 } };
        double[,] twice = { { 1, 0 }, { 1, 1 }, { 1, 2 }, { 1, 3 }, { 1, 3 } };

        LinearFit plain = LinearModel.Fit(once, y)!;
        LinearFit equal = LinearModel.Fit(once, y, [7, 7, 7, 7])!;
        LinearFit weighted = LinearModel.Fit(once, y, [1, 1, 1, 2])!;
        LinearFit repeated = LinearModel.Fit(twice, [.. y, 5])!;

        Assert.Equal(plain.StandardError(1), equal.StandardError(1), 1e-12);
        Assert.Equal(repeated.Parameters[1], weighted.Parameters[1], 1e-12);
    }

    [Fact]
    public void Columns_that_do_not_differ_give_no_fit() =>
        Assert.Null(LinearModel.Fit(new double[,] { { 1, 5 }, { 1, 5 }, { 1, 5 } }, [1, 2, 3]));

    private static LinearFit Fit(int rows, int columns, Func<int, int, double> value, double[] y)
    {
        var design = new double[rows, columns];
        for (int i = 0; i < rows; i++)
        {
            for (int j = 0; j < columns; j++)
            {
                design[i, j] = value(i, j);
            }
        }

        return LinearModel.Fit(design, y)!;
    }

    private static void Certified(LinearFit fit, double[] estimates, double[] errors, double residual, double relative)
    {
        for (int i = 0; i < estimates.Length; i++)
        {
            Assert.Equal(estimates[i], fit.Parameters[i], Math.Abs(estimates[i]) * relative);
            Assert.Equal(errors[i], fit.StandardError(i), errors[i] * relative);
        }

        Assert.Equal(residual, fit.ResidualStandardDeviation, residual * relative);
    }
}
