using PackCare.Analysis.Chemistries;
using PackCare.Analysis.Records;
using PackCare.Analysis.Statistics;

namespace PackCare.Analysis.Imbalance;

/// <summary>
/// Self-discharge of each cell against the others, from how its charge offset grows over days at rest:
/// change of offset = c + k * days, by weighted least squares over all rest intervals. The c, common to all intervals that
/// begin right after a session, takes up what the cell's voltage still had to settle by; it is held near 0 by a pseudo-observation.
/// </summary>
internal static class LeakEstimator
{
    private const double DaysPerWeek = 7;
    private const double FalseAlarms = 0.01;
    private const double FewestDays = 5;
    private const double RecentDays = 180;
    private const double EnoughDays = 21;

    /// <summary>One estimate a cell; empty where the pack was never seen at rest twice in a row, or has one cell.</summary>
    public static IReadOnlyList<Leak> Of(PackRecord record)
    {
        IReadOnlyList<RestInterval> intervals = Lately(RestInterval.Of(record), record.Now);
        if (record.Cells < 2 || intervals.Count == 0)
        {
            return [];
        }

        double days = intervals.Sum(interval => interval.Days);
        long[] sessions = [.. intervals.SelectMany(interval => new[] { interval.From.SessionId, interval.To.SessionId }).OfType<long>().Distinct().Order()];
        return [.. Enumerable.Range(0, record.Cells).Select(cell => OfCell(cell, record, intervals, days, sessions)).OfType<Leak>()];
    }

    // A cell starts to leak one day: what it did before would dilute what it does now.
    private static IReadOnlyList<RestInterval> Lately(IReadOnlyList<RestInterval> all, DateTimeOffset now)
    {
        RestInterval[] lately = [.. all.Where(interval => (now - interval.To.At).TotalDays <= RecentDays)];
        return lately.Length >= 3 && lately.Sum(interval => interval.Days) >= EnoughDays ? lately : all;
    }

    private static Leak? OfCell(int cell, PackRecord record, IReadOnlyList<RestInterval> intervals, double days, IReadOnlyList<long> sessions)
    {
        RestVoltageCurve curve = record.Profile.Curve;
        int count = intervals.Count;
        bool settling = intervals.Any(interval => interval.From.SettlingError > 0);
        int rows = count + (settling ? 1 : 0);
        var design = new double[rows, settling ? 2 : 1];
        var response = new double[rows];
        var weights = new double[rows];
        for (int i = 0; i < count; i++)
        {
            RestInterval interval = intervals[i];
            double fromSlope = curve.SlopeAt(interval.From.MedianVolts);
            double toSlope = curve.SlopeAt(interval.To.MedianVolts);
            design[i, 0] = interval.Days / DaysPerWeek;
            if (settling)
            {
                design[i, 1] = interval.From.SettlingError > 0 ? 1 / fromSlope : 0;
            }

            response[i] = Offset(cell, interval.From, curve) - Offset(cell, interval.To, curve);
            weights[i] = 1 / (Square(interval.From.DifferenceError / fromSlope) + Square(interval.To.DifferenceError / toSlope));
        }

        if (settling)
        {
            design[count, 1] = 1;
            weights[count] = 1 / intervals.Where(interval => interval.From.SettlingError > 0).Average(interval => Square(interval.From.SettlingError));
        }

        if (LinearModel.Fit(design, response, weights) is not { } fit)
        {
            return null;
        }

        int freedom = Math.Max(1, count - 1);
        double variance = fit.WeightedSquares / freedom;
        bool scattered = count > 1 && variance > 1;
        double error = 100 * Math.Sqrt(fit.UnscaledCovariance[0, 0] * (scattered ? variance : 1));
        double rate = 100 * fit.Parameters[0];
        var estimate = scattered ? Estimates.FromT(rate, error, freedom, count) : Estimates.FromNormal(rate, error, count);
        // One-sided, shared out over the cells (Bonferroni).
        double level = 1 - (2 * FalseAlarms / record.Cells);
        double needed = count < 2 ? 6 : StudentTable.TwoSided(level, scattered ? freedom : int.MaxValue);
        return new Leak(cell + 1, estimate, days, days >= FewestDays && rate > needed * error, sessions);
    }

    private static double Offset(int cell, RestReading reading, RestVoltageCurve curve) =>
        CellOffsets.AgainstOthers([.. reading.Volts.Select(curve.SocAt)])[cell];

    private static double Square(double value) => value * value;
}
