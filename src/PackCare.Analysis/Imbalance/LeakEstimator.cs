using PackCare.Analysis.Chemistries;
using PackCare.Analysis.Records;
using PackCare.Analysis.Statistics;

namespace PackCare.Analysis.Imbalance;

/// <summary>
/// Self-discharge of each cell against the others, from how its charge offset moves over days at rest. In every stretch r of
/// rest: offset = o_r - k t + c / slope, by weighted least squares with the stretches' own levels o_r taken out (each stretch
/// is centred). The c belongs to the first reading of stretches that begin right after a session: it takes up what the
/// cell's voltage still had to settle by, is common to them, and is held near 0 by a pseudo-observation.
/// </summary>
internal static class LeakEstimator
{
    private const double DaysPerWeek = 7;
    private const double FalseAlarms = 0.01;
    private const double FewestDays = 5;
    private const double RecentDays = 180;
    private const double EnoughDays = 21;
    private const double SureErrors = 6;

    // The stated errors of readings are allowances; where readings agree better among themselves they are taken at their word, down to a
    // third, the allowances being worth so many degrees of freedom (ours).
    private const double SmallestScale = 0.1;
    private const int StatedFreedom = 6;

    /// <summary>One estimate a cell; empty where the pack was never seen at rest twice in a row, or has one cell.</summary>
    public static IReadOnlyList<Leak> Of(PackRecord record)
    {
        IReadOnlyList<RestStretch> all = RestStretch.Of(record);
        IReadOnlyList<Leak> now = Of(record, all);
        // Only where there is something to hold on to.
        if (!now.Any(leak => leak.PercentPerWeek.Value > 0.5 * leak.Needed))
        {
            return now;
        }

        var earlier = new Earlier<Leak>(all.Count - 1, left => Of(record, [.. all.SkipLast(left)]));
        return [.. now.Select(leak => leak with { Before = earlier.Walk().SelectMany(then => then.Where(one => one.Cell == leak.Cell)).Select(one => new Hold(one.PercentPerWeek, one.Needed)) })];
    }

    private static IReadOnlyList<Leak> Of(PackRecord record, IReadOnlyList<RestStretch> all)
    {
        IReadOnlyList<RestStretch> stretches = Lately(all);
        if (record.Cells < 2 || stretches.Count == 0)
        {
            return [];
        }

        Fit?[] fits = [.. Enumerable.Range(0, record.Cells).Select(cell => FitCell(cell, stretches, record.Profile.Curve))];
        if (fits.Any(fit => fit is null))
        {
            return [];
        }

        int freedom = fits[0]!.Freedom;
        // All cells were read by one instrument; together they tell how well it reads. Where they agree, the stated errors count as so
        // many readings more; where they disagree, the readings alone tell.
        int pooled = Math.Max(0, freedom * (record.Cells - 1));
        double seen = freedom <= 0 ? 0 : fits.Average(fit => fit!.WeightedSquares) / freedom;
        bool agree = seen <= 1;
        double scale = agree ? Math.Max(SmallestScale, (StatedFreedom + (pooled * seen)) / (StatedFreedom + pooled)) : seen;
        pooled += agree ? StatedFreedom : 0;
        double days = stretches.Sum(stretch => stretch.Days);
        long[] sessions = [.. stretches.SelectMany(stretch => stretch.Readings).Select(reading => reading.SessionId).OfType<long>().Distinct().Order()];
        return [.. fits.Select((fit, cell) => Conclude(cell, fit!, scale, pooled, record.Cells, stretches.Count, days, sessions))];
    }

    // A cell starts to leak one day: what it did before would dilute what it does now.
    private static IReadOnlyList<RestStretch> Lately(IReadOnlyList<RestStretch> all)
    {
        RestStretch[] lately = [.. all.Where(stretch => (all[^1].Readings[^1].At - stretch.Readings[^1].At).TotalDays <= RecentDays)];
        return lately.Length >= 3 && lately.Sum(stretch => stretch.Days) >= EnoughDays ? lately : all;
    }

    private static Leak Conclude(int cell, Fit fit, double scale, int pooled, int cells, int stretches, double days, long[] sessions)
    {
        // The pseudo-observation on c is no reading: its part of the error does not shrink with how well readings agree.
        double error = 100 * Math.Sqrt(Math.Max(fit.ReadingVariance * scale, 0) + fit.SettlingVariance);
        double rate = 100 * fit.PerWeek;
        // One-sided, shared out over the cells (Bonferroni).
        double needed = pooled < 2 ? SureErrors : StudentTable.TwoSided(1 - (2 * FalseAlarms / cells), pooled);
        return new Leak(cell + 1, Estimates.FromT(rate, error, pooled, stretches), days, days >= FewestDays && rate > needed * error, sessions) { Needed = days >= FewestDays ? needed * error : double.PositiveInfinity };
    }

    private static Fit? FitCell(int cell, IReadOnlyList<RestStretch> stretches, RestVoltageCurve curve)
    {
        var rows = new List<(double Weeks, double Settling, double Offset, double Weight)>();
        foreach (RestStretch stretch in stretches)
        {
            rows.AddRange(Centred(stretch, cell, curve));
        }

        double[] priors = [.. stretches.Select(stretch => stretch.Readings[0].SettlingError).Where(error => error > 0)];
        int columns = priors.Length > 0 ? 2 : 1;
        var design = new double[rows.Count + columns - 1, columns];
        var response = new double[rows.Count + columns - 1];
        var weights = new double[rows.Count + columns - 1];
        for (int i = 0; i < rows.Count; i++)
        {
            design[i, 0] = -rows[i].Weeks;
            if (columns == 2)
            {
                design[i, 1] = rows[i].Settling;
            }

            response[i] = rows[i].Offset;
            weights[i] = rows[i].Weight;
        }

        if (columns == 2)
        {
            design[rows.Count, 1] = 1;
            weights[rows.Count] = 1 / priors.Average(error => error * error);
        }

        if (LinearModel.Fit(design, response, weights) is not { } fit)
        {
            return null;
        }

        double readingVariance = 1 / rows.Sum(row => row.Weight * row.Weeks * row.Weeks);
        return new Fit(
            fit.Parameters[0],
            Math.Min(readingVariance, fit.UnscaledCovariance[0, 0]),
            Math.Max(0, fit.UnscaledCovariance[0, 0] - readingVariance),
            fit.WeightedSquares,
            rows.Count - stretches.Count - 1);
    }

    // Each stretch less its own weighted mean: its level says nothing of a loss.
    private static IEnumerable<(double Weeks, double Settling, double Offset, double Weight)> Centred(RestStretch stretch, int cell, RestVoltageCurve curve)
    {
        DateTimeOffset start = stretch.Readings[0].At;
        var rows = stretch.Readings.Select((reading, i) =>
        {
            double slope = curve.SlopeAt(reading.MedianVolts);
            return (
                Weeks: (reading.At - start).TotalDays / DaysPerWeek,
                Settling: i == 0 && reading.SettlingError > 0 ? 1 / slope : 0,
                Offset: CellOffsets.AgainstOthers([.. reading.Volts.Select(curve.SocAt)])[cell],
                Weight: Math.Pow(reading.DifferenceError / slope, -2));
        }).ToList();
        double all = rows.Sum(row => row.Weight);
        double weeks = rows.Sum(row => row.Weight * row.Weeks) / all;
        double settling = rows.Sum(row => row.Weight * row.Settling) / all;
        double offset = rows.Sum(row => row.Weight * row.Offset) / all;
        return rows.Select(row => (row.Weeks - weeks, row.Settling - settling, row.Offset - offset, row.Weight));
    }

    private sealed record Fit(double PerWeek, double ReadingVariance, double SettlingVariance, double WeightedSquares, int Freedom);
}
