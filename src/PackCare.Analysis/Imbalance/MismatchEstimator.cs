using MathNet.Numerics.Statistics;
using PackCare.Analysis.Records;
using PackCare.Analysis.Statistics;
using PackCare.Core.Estimates;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Imbalance;

/// <summary>Capacity of each cell against the others, from how its curve of voltage against charge is stretched.</summary>
internal static class MismatchEstimator
{
    // Only the latest sessions: a cell may have faded since. Curves of like cells differ in shape by about this much (ours, no source).
    private const int Latest = 12;
    private const double ShapeError = 0.01;
    private const double WorstError = 0.15;
    private const double FalseAlarms = 0.01;

    /// <summary>One estimate a cell; empty without alignments.</summary>
    public static IReadOnlyList<Mismatch> Of(PackRecord record)
    {
        SessionRecord[] aligned = [.. record.Sessions
            .Where(session => session.Summary.Cells.Count == record.Cells && session.Summary.Cells.All(cell => cell.Alignment is not null))];
        if (record.Cells < 2 || aligned.Length == 0)
        {
            return [];
        }

        IReadOnlyList<Mismatch> now = Of(aligned, record.Cells);
        if (!now.Any(cell => cell.Percent.Value > 0.5 * cell.Needed))
        {
            return now;
        }

        var earlier = new Earlier<Mismatch>(aligned.Length - 1, left => Of(aligned[..^left], record.Cells));
        return [.. now.Select(cell => cell with { Before = earlier.Walk().SelectMany(then => then.Where(one => one.Cell == cell.Cell)).Select(one => new Hold(one.Percent, one.Needed)) })];
    }

    private static IReadOnlyList<Mismatch> Of(SessionRecord[] aligned, int cells)
    {
        SessionRecord[] latest = [.. aligned.TakeLast(Latest)];
        return [.. Enumerable.Range(0, cells).Select(cell => OfCell(cell, latest, cells)).OfType<Mismatch>()];
    }

    private static Mismatch? OfCell(int cell, SessionRecord[] sessions, int cells)
    {
        var used = new List<long>();
        var estimates = new List<Estimate>();
        foreach (SessionRecord session in sessions)
        {
            ChargeAlignment[] all = [.. session.Summary.Cells.Select(summary => summary.Alignment!)];
            ChargeAlignment[] others = [.. all.Where((_, i) => i != cell)];
            double relative = all[cell].Stretch / others.Select(other => other.Stretch).Median();
            double error = Math.Sqrt(Square(all[cell].StretchStandardError) 
                + (others.Sum(other => Square(other.StretchStandardError)) / Square(others.Length)));
            if (error <= WorstError)
            {
                used.Add(session.Id);
                estimates.Add(Estimates.FromNormal(100 * (1 - (1 / relative)), 100 * error, 1));
            }
        }

        if (estimates.Count == 0)
        {
            return null;
        }

        int agreeing = Tail.Agreeing(estimates);
        used.RemoveRange(0, used.Count - agreeing);
        estimates.RemoveRange(0, estimates.Count - agreeing);
        Estimate mean = Estimates.WeightedMean(estimates);
        // Of the difference in shape no mean rids: it is the same in every session.
        double total = Math.Sqrt(Square(mean.StandardError) + Square(100 * ShapeError));
        double factor = Estimates.Factor(mean);
        var percent = new Estimate(mean.Value, total, mean.Value - (factor * total), mean.Value + (factor * total), Estimates.Confidence, mean.Count);
        double needed = factor / StudentTable.TwoSided(Estimates.Confidence, int.MaxValue) * StudentTable.TwoSided(1 - (2 * FalseAlarms / cells), int.MaxValue);
        return new Mismatch(cell + 1, percent, estimates.Count >= 2 && mean.Value > needed * total, used) { Needed = estimates.Count >= 2 ? needed * total : double.PositiveInfinity };
    }

    private static double Square(double value) => value * value;
}
