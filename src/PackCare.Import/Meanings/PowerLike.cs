namespace PackCare.Import.Meanings;

/// <summary>
/// Tells a power from a current where no header does: while a load or a charge stays the same for long, the voltage goes, and either the one or the
/// other goes along with it. A power and its energy relate to each other as a current and its charge do.
/// </summary>
internal static class PowerLike
{
    // Of the voltage.
    private const double LeastGone = 0.02;

    // Of what the voltage went.
    private const double Still = 0.3;

    private const int FewestVotes = 2;

    /// <summary>Whether a column goes as the power does and the current would not.</summary>
    internal static bool IsPower(ColumnRole role, FlowRows rows)
    {
        int power = 0;
        int current = 0;
        double digit = Math.Pow(10, -role.Column.MaxDecimals);
        for (int from = 0, i = 1; i < rows.Rows.Count; i++)
        {
            (FlowRow start, FlowRow now) = (rows.Rows[from], rows.Rows[i]);
            bool goesOn = rows.Follows(i) && rows.Flows(now) && rows.Flows(start) && Math.Abs(now.Amps - rows.Rows[i - 1].Amps) < (LeastGone * Math.Abs(now.Amps)) + digit;
            double volts = (now.Volts / start.Volts) - 1;
            if (!goesOn || !double.IsFinite(volts))
            {
                from = i;
                continue;
            }

            // The digits have to be able to show it.
            if (Math.Abs(volts) < Math.Max(LeastGone, 4 * digit / Math.Abs(start.Amps)))
            {
                continue;
            }

            double amps = (now.Amps / start.Amps) - 1;
            current += Math.Abs(amps) < Still * Math.Abs(volts) ? 1 : 0;
            power += Math.Abs(amps - volts) < Still * Math.Abs(volts) ? 1 : 0;
            from = i;
        }

        return power >= FewestVotes && power > 3 * current;
    }
}
