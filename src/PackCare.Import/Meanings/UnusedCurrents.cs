using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Finds a second current among the columns that are left out: where it steps the cells step, and the current that was taken does not.</summary>
internal static class UnusedCurrents
{
    private const int FewestSteps = 2;
    private const int MostSteps = 1000;

    // Volts of a cell.
    private const double LeastVolts = 0.012;

    // Of the range of the column.
    private const double LeastPart = 0.25;

    // A resistance of the cells is the same at every step, or nearly.
    private const double MostRatio = 3;

    /// <summary>Refuses the log at the first such step.</summary>
    internal static void Check(FlowLog log, ColumnRole current, FlowRows rows)
    {
        List<ColumnRole> unused = [.. log.Columns.Roles.Where(role => !role.IsUsed && role.Column.Shape == ColumnShape.Number && role.Profile is { Count: > 0, IsConstant: false }
            && (role.Hint.Quantity == Quantity.Current || (role.Hint.Quantity == Quantity.Unknown && !role.Hint.IsDerived)))];
        if (unused.Count == 0)
        {
            return;
        }

        double cells = log.CellsInVoltage;
        List<int> steps = [.. Enumerable.Range(1, Math.Max(0, rows.Rows.Count - 1)).Where(i => rows.Follows(i)
            && Math.Abs(rows.VoltsSince(i)) > Math.Max(LeastVolts * cells, (6 * rows.Noise) + (2 * rows.Digit)) && Math.Abs(rows.AmpsSince(i)) <= rows.DigitOfCurrent * 1.01 && !rows.IsSpike(i) && !rows.IsCourse(i))];
        int fewest = current.Profile!.IsConstant ? 1 : FewestSteps;
        if (steps.Count < fewest || steps.Count > MostSteps)
        {
            return;
        }

        // Of a single step it tells more where one column begins from nought, as a current does and a number of a pack does not.
        foreach (ColumnRole role in unused.Where(role => steps.Count >= FewestSteps || role.Profile!.Min <= 0))
        {
            double[] values = LogColumns.Values(role, 0, 1);
            double least = LeastPart * (role.Profile!.Max - role.Profile.Min);
            List<(int Row, double Ratio)> answers = [.. steps.Select(i => rows.Rows[i].Number).Zip(steps.Select(rows.VoltsSince))
                .Where(step => step.First >= 1 && step.First < values.Length && Math.Abs(values[step.First] - values[step.First - 1]) >= least)
                .Select(step => (step.First, step.Second / (values[step.First] - values[step.First - 1])))];
            if (answers.Count < fewest || answers.Select(answer => Math.Sign(answer.Ratio)).Distinct().Count() > 1)
            {
                continue;
            }

            double[] sizes = [.. answers.Select(answer => Math.Abs(answer.Ratio))];
            int stepsOfIts = Enumerable.Range(1, values.Length - 1).Count(i => Math.Abs(values[i] - values[i - 1]) >= least);
            if (sizes.Max() <= MostRatio * sizes.Min() && answers.Count * 2 >= stepsOfIts)
            {
                log.Columns.Refuse(
                    "ambiguous-current", answers[0].Row, role, $"the cells step here with column {role.Column.Index + 1}, which would be left out, and not with the current in column {current.Column.Index + 1}: there may be two currents, one in and one out",
                    "name both in the header, charge_current_a and discharge_current_a; or leave column " + (role.Column.Index + 1).ToString(System.Globalization.CultureInfo.InvariantCulture) + " out with a reading guide: \"meaning\": \"ignored\"");
                return;
            }
        }
    }
}
