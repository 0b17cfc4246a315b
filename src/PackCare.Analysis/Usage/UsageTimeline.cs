using PackCare.Analysis.Assessments;
using PackCare.Analysis.Records;
using PackCare.Analysis.Statistics;
using PackCare.Analysis.Trends;
using PackCare.Core.Estimates;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Usage;

/// <summary>How much a pack had been used at each moment, as far as logs tell.</summary>
internal sealed class UsageTimeline
{
    private const double LeastHundreds = 0.15;

    private readonly List<(DateTimeOffset At, double ThroughputAh)> _steps = [];
    private readonly PackRecord _record;
    private readonly double? _capacityAh;

    /// <summary>Counts what went in over all sessions.</summary>
    /// <param name="record">The pack's record.</param>
    /// <param name="capacityAh">What a full cycle is, in ampere hours, or null.</param>
    public UsageTimeline(PackRecord record, double? capacityAh)
    {
        _record = record;
        _capacityAh = capacityAh > 0 ? capacityAh : null;
        double sum = 0;
        foreach (SessionRecord session in record.Sessions)
        {
            sum += session.Summary.ChargeInAh ?? 0;
            _steps.Add((session.Started, sum));
        }
    }

    /// <summary>Equivalent full cycles up to and with the session that started then; null without a capacity.</summary>
    public double? CyclesAt(DateTimeOffset moment)
    {
        int low = 0;
        int high = _steps.Count;
        while (low < high)
        {
            int middle = (low + high) / 2;
            (low, high) = _steps[middle].At <= moment ? (middle + 1, high) : (low, middle);
        }

        return low == 0 ? 0 : _steps[low - 1].ThroughputAh / _capacityAh;
    }

    /// <summary>The change of a figure in 100 equivalent full cycles; null with too few readings or too little use.</summary>
    public Estimate? SlopePer100Cycles(IReadOnlyList<WeightedPoint> points)
    {
        if (_capacityAh is null || points.Count < TrendLine.Needed)
        {
            return null;
        }

        double[] x = [.. points.Select(point => CyclesAt(point.At)!.Value / 100)];
        // Stretching a few cycles to a hundred would say more of time than of use.
        if (x.Max() - x.Min() < LeastHundreds)
        {
            return null;
        }

        return RobustLine.Fit(x, [.. points.Select(point => point.Value)], [.. points.Select(point => point.StandardError)], TrendLine.Huber) is { } line
            ? Estimates.FromT(line.Slope, Math.Sqrt(line.SlopeVariance), line.DegreesOfFreedom, points.Count)
            : null;
    }

    // The interval of a quotient whose divisor errs is that divisor's, turned round.
    private static Estimate Cycles(double throughput, Estimate ah) => new(
        throughput / ah.Value, throughput / ah.Value * ah.StandardError / ah.Value, throughput / ah.High, throughput / ah.Low, ah.Confidence, ah.Count);

    /// <summary>The totals.</summary>
    /// <param name="measuredAh">What a full cycle is where it was measured, not stated; null otherwise.</param>
    public UsageAssessment Assess(Estimate? measuredAh)
    {
        double? throughput = _record.Sessions.Any(session => session.Summary.ChargeInAh is not null) ? _steps[^1].ThroughputAh : null;
        return new UsageAssessment(_record.Sessions.Count, throughput, throughput / _capacityAh, _record.First, _record.Last)
        {
            EstimatedCycles = throughput is { } through && measuredAh is { Low: > 0 } ? Cycles(through, measuredAh) : null,
        };
    }
}
