using MathNet.Numerics.Statistics;
using PackCare.Analysis.Records;
using PackCare.Analysis.Statistics;
using PackCare.Core.Estimates;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Imbalance;

/// <summary>A cell's charge offset as the shift of its curve in one session shows it.</summary>
/// <param name="Cell">Cell number from 1.</param>
/// <param name="Percent">Percent of the reference capacity by which it is fuller than the middle one of the others.</param>
/// <param name="SessionId">The session.</param>
internal sealed record AlignedOffset(int Cell, Estimate Percent, long SessionId)
{
    /// <summary>How many standard errors it is from none.</summary>
    public double Errors => Percent.Value / Math.Max(Percent.StandardError, 1e-9);

    /// <summary>The offsets of the latest session that shows them; empty without one or without a capacity to relate them to.</summary>
    public static IReadOnlyList<AlignedOffset> Latest(PackRecord record, double? capacityAh)
    {
        SessionRecord? session = record.Sessions.LastOrDefault(session => session.Summary.Cells.Count == record.Cells && session.Summary.Cells.All(cell => cell.Alignment is not null));
        if (session is null || capacityAh is not > 0 || record.Cells < 2)
        {
            return [];
        }

        ChargeAlignment[] cells = [.. session.Summary.Cells.Select(cell => cell.Alignment!)];
        return [.. cells.Select((cell, i) =>
        {
            ChargeAlignment[] others = [.. cells.Where((_, j) => j != i)];
            double shift = cell.ShiftAh - others.Select(other => other.ShiftAh).Median();
            double error = Math.Sqrt(Math.Pow(cell.ShiftStandardErrorAh, 2) + (others.Sum(other => Math.Pow(other.ShiftStandardErrorAh, 2)) / Math.Pow(others.Length, 2)));
            return new AlignedOffset(i + 1, Estimates.Scale(Estimates.FromNormal(shift, error, 1), 100 / capacityAh.Value), session.Id);
        })];
    }
}
