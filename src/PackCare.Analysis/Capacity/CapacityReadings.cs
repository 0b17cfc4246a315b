using System.Globalization;
using MathNet.Numerics.Statistics;
using PackCare.Analysis.Chemistries;
using PackCare.Analysis.Records;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Capacity;

/// <summary>
/// Capacity from charge counted between two rests: C = |Q| / |SoC2 - SoC1|, the states of charge read off the rest-voltage
/// curve, each cell for itself, the median cell standing for the pack.
/// </summary>
internal static class CapacityReadings
{
    /// <summary>Below this part of the charge nothing is concluded.</summary>
    public const double LeastSpan = 0.25;

    /// <summary>From this part of the charge on a session counts as complete.</summary>
    public const double CompleteSpan = 0.85;

    /// <summary>The readings in order of time.</summary>
    public static IReadOnlyList<CapacityReading> Of(PackRecord record) =>
        [.. record.Sessions.Select(session => Of(session, record)).OfType<CapacityReading>()];

    private static CapacityReading? Of(SessionRecord session, PackRecord record)
    {
        if (session.Summary.NetChargeAh is not { } charge || session.Summary.Kind is SessionKind.Rest or SessionKind.Mixed)
        {
            return null;
        }

        RestReading[] rests = [.. RestReadings.Of(session, record.Cells)];
        if (rests is not [{ Source: RestSource.SessionStart } start, { Source: RestSource.SessionEnd } end])
        {
            return null;
        }

        RestVoltageCurve curve = record.Profile.Curve;
        double[] from = [.. start.Volts.Select(curve.SocAt)];
        double[] to = [.. end.Volts.Select(curve.SocAt)];
        double span = Math.Abs(from.Zip(to, (a, b) => b - a).Median());
        if (span < LeastSpan || charge * (to.Median() - from.Median()) <= 0)
        {
            return null;
        }

        double capacity = Math.Abs(charge) / span;
        double own = Math.Sqrt(Square(start.LevelError / curve.SlopeAt(start.MedianVolts)) + Square(end.LevelError / curve.SlopeAt(end.MedianVolts)));
        double shared = curve.SpanError(from.Median(), to.Median());
        return new CapacityReading(session.Started, session.Id, capacity, capacity * own / span, capacity * shared / span, span, charge > 0, Math.Min(from.Median(), to.Median()), Math.Max(from.Median(), to.Median()), Group(from.Median(), to.Median()));
    }

    private static string Group(double fromSoc, double toSoc) => string.Create(CultureInfo.InvariantCulture, $"{Math.Round(Math.Min(fromSoc, toSoc) * 10):0}-{Math.Round(Math.Max(fromSoc, toSoc) * 10):0}");

    private static double Square(double value) => value * value;
}
