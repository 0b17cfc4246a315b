namespace PackCare.Import.Meanings;

/// <summary>Tells whether the values of a column could be those of a current.</summary>
internal sealed class CurrentShape(FlowLog log)
{
    /// <summary>Whether it goes up and down as a current may, and the cells answer to it.</summary>
    internal bool CanBeCurrent(ColumnRole role)
    {
        NumberProfile profile = role.Profile!;
        if (profile.LargestMagnitude > 100_000 || profile.IsConstantZero || role.Column.MaxDecimals > 6)
        {
            return false;
        }

        // A count that only goes one way is a counter or a row number, all the more where it does so by single digits.
        int ways = Math.Max(profile.Rises, profile.Falls);
        if (Math.Min(profile.Rises, profile.Falls) == 0 && profile.Count > 2 && (ways > 0.5 * profile.Count || (ways > 0 && profile.LargestStep < 1.5 * Math.Pow(10, -role.Column.MaxDecimals))))
        {
            return false;
        }

        Flow flow = log.Measure(role, null);
        return Math.Abs(flow.DriftWhilePositive - flow.DriftWhileNegative) >= 0.0015 || Math.Abs(flow.StepProduct) > 0.5 * flow.StepProductSize;
    }

    /// <summary>Whether all cells step at once, and it stays where it is: they answer to a current, and it is another.</summary>
    internal bool LeavesStepUnanswered(ColumnRole role)
    {
        const double LeastStepVolts = 0.03;
        FlowRows rows = log.RowsOf(role, null);
        return Enumerable.Range(2, Math.Max(0, rows.Rows.Count - 3)).Any(i =>
            Enumerable.Range(i - 1, 3).All(at => rows.Follows(at) && Math.Abs(rows.AmpsSince(at)) <= Math.Max(0.02 * rows.Largest, 1.01 * rows.DigitOfCurrent))
            && Math.Abs(rows.VoltsSince(i)) >= Math.Max(LeastStepVolts, 4 * Math.Max(Math.Abs(rows.VoltsSince(i - 1)), Math.Abs(rows.VoltsSince(i + 1))))
            && !rows.IsSpike(i));
    }

    /// <summary>
    /// Whether it is one of as many columns as there are cells that all stay about where they are: their resistances, of which some flicker more
    /// than others.
    /// </summary>
    internal bool IsOneOfSeveral(ColumnRole role, List<ColumnRole> unknown)
    {
        return log.Columns.Cells.Count >= 2 && Stays(role) && unknown.Count(other => Stays(other) && other.Column.MaxDecimals == role.Column.MaxDecimals) >= log.Columns.Cells.Count;

        static bool Stays(ColumnRole other) => other.Profile is { Min: > 0 } profile && profile.Min > 0.5 * profile.Max;
    }

    /// <summary>Whether it holds small whole numbers without a sign: a state, a stage, cells that are being balanced.</summary>
    internal static bool IsFlag(ColumnRole role) => role.Column.MaxDecimals == 0 && role.Profile is { Min: >= 0, Max: <= 16 };
}
